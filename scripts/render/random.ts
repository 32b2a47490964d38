/** A seeded stream of chance: the same seed draws the same photo on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  readonly next: () => number
  readonly range: (low: number, high: number) => number
  /** Whole number, both ends included. */
  readonly whole: (low: number, high: number) => number
  /** Normal, mean 0, standard deviation 1. */
  readonly normal: () => number
  readonly chance: (probability: number) => boolean
  readonly pick: <T>(items: readonly T[]) => T
  /** -1 or 1. */
  readonly sign: () => 1 | -1
}

/** Mixes 32 bits so that neighbouring inputs give unrelated outputs (multiply and xor-shift). */
export const mix32 = (value: number): number => {
  let h = value | 0
  h = Math.imul(h ^ (h >>> 16), 0x7feb352d)
  h = Math.imul(h ^ (h >>> 15), 0x846ca68b)
  return (h ^ (h >>> 16)) >>> 0
}

/** A Weyl sequence through `mix32`, 53 bits a draw. `label` gives independent streams of one seed. */
export const createRandom = (seed: number, label = ''): Random => {
  let state = mix32(seed)
  for (const letter of label) state = mix32(state ^ (letter.codePointAt(0) ?? 0))
  const bits = (): number => {
    state = (state + 0x9e3779b9) | 0
    return mix32(state)
  }
  const next = (): number => ((bits() >>> 5) * 67108864 + (bits() >>> 6)) / 9007199254740992
  const range = (low: number, high: number): number => low + (high - low) * next()
  const whole = (low: number, high: number): number => low + Math.floor(next() * (high - low + 1))
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())
  const pick = <T>(items: readonly T[]): T => {
    const item = items[Math.floor(next() * items.length)]
    if (item === undefined) throw new RangeError('pick needs at least one item, got none')
    return item
  }
  return { next, range, whole, normal, chance: (p) => next() < p, pick, sign: () => (next() < 0.5 ? -1 : 1) }
}
