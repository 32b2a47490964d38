/** A class of photos with the seeds that stand for it. */
export interface Suite {
  readonly difficulty: string
  readonly seeds: readonly number[]
}

const span = (from: number, count: number): readonly number[] => Array.from({ length: count }, (_, i) => from + i)

/**
 * For tuning: seeds 1 to 999 are free to look at.
 * For verification: seeds from 5001 up. They are never used while tuning, never looked at one by one to improve a figure,
 * and the list below is fixed: 96 photos.
 */
const COUNTS = {
  tune: { sheet: 6, plain: 8, cropped: 6, hard: 8, strip: 4, clean: 3, textured: 3, circle: 6 },
  verify: { sheet: 20, plain: 20, cropped: 18, hard: 18, strip: 8, clean: 6, textured: 6 },
} as const

export type SuiteName = keyof typeof COUNTS

/** The photos of a suite, or of some of its classes, or of other seeds of them. */
export const chooseSuite = (name: SuiteName, classes: readonly string[] | null, seeds: readonly [from: number, to: number] | null): readonly Suite[] =>
  Object.entries(COUNTS[name])
    .filter(([difficulty]) => classes === null || classes.includes(difficulty))
    .map(([difficulty, count]) => ({
      difficulty,
      seeds: seeds === null ? span(name === 'tune' ? 1 : 5001, count) : span(seeds[0], seeds[1] - seeds[0] + 1),
    }))
