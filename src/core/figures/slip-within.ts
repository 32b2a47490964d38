import { extremes, mean } from '#core/numeric/moments'
import type { MeanRun } from './mean-run.ts'

/** A step inside one run that the other runs do not have. */
export interface SlipWithin {
  readonly pass: number
  readonly command: number
  readonly deg: number
}

/** 1 % point of the largest excursion of a Brownian bridge (Kolmogorov's distribution, tables in any textbook). */
const excursion = 1.628

const slipOf = (residuals: readonly number[], scatterDeg: number): { at: number; deg: number } | null => {
  const centred = residuals.map((each) => each - mean(residuals))
  let total = 0
  const sums = centred.map((each) => (total += each))
  const [low, high] = extremes(sums)
  const largest = Math.max(Math.abs(low), Math.abs(high))
  if (largest <= excursion * scatterDeg * Math.sqrt(residuals.length) || scatterDeg <= 1e-12) return null
  const at = sums.findIndex((each) => Math.abs(each) === largest) + 1
  return { at, deg: mean(residuals.slice(at)) - mean(residuals.slice(0, at)) }
}

/** Scatter that a slow change does not enter: differences of neighbours over √2. */
const quickScatter = (residuals: readonly number[]): number => Math.sqrt(mean(residuals.slice(1).map((each, i) => (each - (residuals[i] ?? 0)) ** 2)) / 2)

/**
 * The run that stepped sideways furthest on its way, seen against the mean of the others (cumulative sums, 1 %).
 * @returns null when none did, and with fewer than three runs: of two it cannot be said which one slipped
 */
export const slipWithin = ({ table, runs, commands }: MeanRun): SlipWithin | null => {
  if (table.length < 3) return null
  const found = table.flatMap((row, p) => {
    const others = table.filter((_, q) => q !== p)
    const residuals = row.map((angle, k) => angle - mean(others.map((each) => each[k] ?? 0)))
    const slip = slipOf(residuals, quickScatter(residuals))
    return slip ? [{ pass: runs[p]?.pass ?? p + 1, command: commands[slip.at] ?? 0, deg: slip.deg }] : []
  })
  return found.reduce<SlipWithin | null>((largest, next) => (largest && Math.abs(largest.deg) >= Math.abs(next.deg) ? largest : next), null)
}
