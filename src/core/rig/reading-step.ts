/** Divisions people read to, mm (common practice, no source). */
const divisions = [1, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02]
/** With fewer positions, numbers that happen to fit are no proof. */
const fewest = 12
const rounding = 1e-6

/**
 * The step to which lengths were read: the coarsest usual division that all of them are multiples of, else the last digit
 * typed. Someone who reads half millimetres may well type 12.50.
 * @param lastDigit mm
 */
export const readingStep = (positionsMm: readonly number[], lastDigit: number): number => {
  const different = [...new Set(positionsMm)]
  if (different.length < fewest) return lastDigit
  const fits = (division: number): boolean => different.every((position) => Math.abs(position / division - Math.round(position / division)) < rounding)
  return divisions.find((division) => division > lastDigit && fits(division)) ?? lastDigit
}
