import type { Score } from './score.ts'

/** Pooled figures of a class of photos. */
export interface Summary {
  readonly difficulty: string
  readonly photos: number
  readonly refused: number
  readonly recall: number
  readonly precision: number
  readonly rms: number
  readonly p95: number
  /** After the terms that centre and tilt leave are taken out. */
  readonly localRms: number
  /** Root mean square of error / u, and a robust spread (1.4826 · median |…|). */
  readonly normalised: number
  readonly normalisedRobust: number
  readonly normalisedWhole: number
  /** Root mean square of each mark's local error over its Cramér–Rao bound. */
  readonly boundRatio: number
  readonly countRight: number
  /** Share of photos with a wrong count that are flagged as doubtful. */
  readonly wrongFlagged: number
  readonly centreMm: number
  readonly rectifiedBy: string
  readonly seconds: number
}

const rootMeanSquare = (values: readonly number[]): number => Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length)

const quantile = (values: readonly number[], share: number): number => {
  const sorted = values.toSorted((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN
}

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0)

const tally = (names: readonly string[]): string =>
  [...new Set(names)].sort().map((name) => `${name} ${names.filter((n) => n === name).length}`).join(', ')

export const summarise = (difficulty: string, scores: readonly Score[]): Summary => {
  const errors = scores.flatMap((s) => s.errors)
  const local = scores.flatMap((s) => s.local)
  const normalised = scores.flatMap((s) => s.normalised).filter(Number.isFinite)
  const wrong = scores.filter((s) => !s.countRight)
  const centres = scores.flatMap((s) => (s.centreErrorMm === null ? [] : [s.centreErrorMm]))
  const taken = sum(scores.map((s) => s.taken))
  return {
    difficulty,
    photos: scores.length,
    refused: scores.filter((s) => s.kind === 'refused').length,
    recall: sum(scores.map((s) => s.found)) / sum(scores.map((s) => s.wanted)),
    precision: (taken - sum(scores.map((s) => s.spurious))) / taken,
    rms: rootMeanSquare(errors),
    p95: quantile(errors.map(Math.abs), 0.95),
    localRms: rootMeanSquare(local),
    normalised: rootMeanSquare(normalised),
    normalisedRobust: 1.4826 * quantile(normalised.map(Math.abs), 0.5),
    normalisedWhole: rootMeanSquare(scores.flatMap((s) => s.normalisedWhole).filter(Number.isFinite)),
    boundRatio: rootMeanSquare(scores.flatMap((s) => s.overBound).filter(Number.isFinite)),
    countRight: scores.filter((s) => s.countRight).length / scores.length,
    wrongFlagged: wrong.length === 0 ? 1 : wrong.filter((s) => s.doubtful).length / wrong.length,
    centreMm: rootMeanSquare(centres),
    rectifiedBy: tally(scores.map((s) => s.rectifiedBy)),
    seconds: sum(scores.map((s) => s.seconds)) / scores.length,
  }
}
