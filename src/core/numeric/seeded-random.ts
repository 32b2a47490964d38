/**
 * Uniform numbers in [0, 1) that the same seed always repeats, on any machine: 32-bit integer arithmetic only.
 * Small fast counting generator (sfc32, public domain, from memory of its published recurrence), 128 bits of state,
 * the first twelve draws thrown away. Any finite seed will do; it is taken as a 32-bit integer.
 */
export const seededRandom = (seed: number): (() => number) => {
  if (!Number.isFinite(seed)) throw new RangeError(`seed must be a finite number, got ${seed}`)
  let a = 0x9e3779b9
  let b = 0x243f6a88
  let c = seed | 0
  let counter = 1
  const draw = (): number => {
    const sum = (a + b + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = ((c << 21) | (c >>> 11)) + sum
    c |= 0
    return (sum >>> 0) / 4294967296
  }
  for (let i = 0; i < 12; i++) draw()
  return draw
}

/** One standard normal number (mean 0, standard deviation 1) by the Box–Muller formula, from two uniform ones. */
export const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
