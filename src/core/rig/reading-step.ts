/** Divisions people read to, mm or deg (common practice, no source). */
const divisions = [1, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02]
/** With fewer positions, numbers that happen to fit are no proof. */
const fewest = 12
const rounding = 1e-6

/** Positions a whole number of microsteps apart, all of them, are worked out and not read. */
const isExact = (positions: readonly number[], microstep: number): boolean =>
  positions.every((position) => Math.abs((position - (positions[0] ?? 0)) / microstep - Math.round((position - (positions[0] ?? 0)) / microstep)) < 1e-4)

/**
 * The step to which positions were read: the coarsest usual division that all of them are multiples of, else the last digit
 * typed. Someone who reads half millimetres may well type 12.50.
 * @param positions mm or deg on a dial
 * @param lastDigit in the same unit
 * @param microstep what a microstep is on a dial, deg; left out for lengths
 */
export const readingStep = (positions: readonly number[], lastDigit: number, microstep?: number): number => {
  const different = [...new Set(positions)]
  if (microstep !== undefined && isExact(positions, microstep)) return lastDigit
  if (different.length < fewest) return lastDigit
  const fits = (division: number): boolean => different.every((position) => Math.abs(position / division - Math.round(position / division)) < rounding)
  return divisions.find((division) => division > lastDigit && fits(division)) ?? lastDigit
}
