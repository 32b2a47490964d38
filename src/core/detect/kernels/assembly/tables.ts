// Tables of the error function and of the normal density, 256 numbers to a unit, and how far they reach; ../kernels.ts fills them.
const PER_UNIT = 256.0
const ERF_REACH = 4 * PER_UNIT
const BELL_REACH = 6 * PER_UNIT

export const erfs: usize = memory.data(8 * 1026)
export const bells: usize = memory.data(8 * 1538)

export function erf(x: f64): f64 {
  const size = Math.abs(x) * PER_UNIT
  if (size >= ERF_REACH) return x < 0 ? -1.0 : 1.0
  const i = <i32>size
  const low = load<f64>(erfs + 8 * i)
  const value = low + (size - <f64>i) * (load<f64>(erfs + 8 * i, 8) - low)
  return x < 0 ? -value : value
}

export function bell(x: f64): f64 {
  const size = Math.abs(x) * PER_UNIT
  if (size >= BELL_REACH) return 0
  const i = <i32>size
  const low = load<f64>(bells + 8 * i)
  return low + (size - <f64>i) * (load<f64>(bells + 8 * i, 8) - low)
}
