import { medianOrZero } from '#core/numeric/median'
import { type FitFrame, type SheetModel, type SheetSolution, solveSheet, startOf } from './fit-sheet.ts'
import type { MatchedTarget, PageMatch } from './match-page.ts'
import { pageOfNumber } from './page-number.ts'

/** A fit over the targets that agree, and its spread. */
export interface RobustSheet {
  readonly solution: SheetSolution
  readonly used: readonly MatchedTarget[]
  readonly left: readonly MatchedTarget[]
  /** Standard deviation of one measured coordinate, px. */
  readonly sigmaPx: number
}

/** What a ring's centre is worth when too few targets say it themselves, px, and how many coordinates that guess counts for. */
const priorSigmaPx = 0.04
const priorWeight = 2

const sumOfSquares = (values: Float64Array): number => values.reduce((sum, value) => sum + value * value, 0)

const sigmaOf = (residuals: Float64Array, parameters: number): number => {
  const freedom = Math.max(0, residuals.length - parameters)
  return Math.sqrt((sumOfSquares(residuals) + priorWeight * priorSigmaPx ** 2) / (freedom + priorWeight))
}

const lengthsOf = (residuals: Float64Array): readonly number[] =>
  Array.from({ length: residuals.length / 2 }, (_, n) => Math.hypot(residuals[2 * n] as number, residuals[2 * n + 1] as number))

/** Of two independent normal coordinates the length's median is 1.1774 of their deviation (Rayleigh's law). */
const limitOf = (lengths: readonly number[]): number => Math.max(4.5 * (medianOrZero(lengths) / 1.1774), 3 * priorSigmaPx)

const homographyAndRadial = (radial: boolean): number => (radial ? 9 : 8)

/** Fits, leaves out what disagrees, and fits again until nothing more falls out. */
const fitLeavingOut = (model: SheetModel, targets: readonly MatchedTarget[], from: readonly number[]): RobustSheet | null => {
  let used = targets
  let start = from
  let sigmaPx = 0.1
  for (let round = 0; round < 5; round++) {
    const solution = solveSheet(model, used, { start, sigmaPx })
    if (solution === null) return null
    const lengths = lengthsOf(solution.residuals)
    const limit = limitOf(lengths)
    const kept = used.filter((_, n) => (lengths[n] as number) <= limit)
    const settled = kept.length === used.length || kept.length < 5
    start = solution.parameters
    sigmaPx = sigmaOf(solution.residuals, homographyAndRadial(model.radial))
    if (settled && round > 0) return { solution, used, left: targets.filter((target) => !used.includes(target)), sigmaPx }
    if (!settled) used = kept
  }
  return null
}

/** The page that the sheet's frame hangs on: the shaft's own (or the strip's first) when it shows four targets, else the one with most. */
const firstPage = (targets: readonly MatchedTarget[]): number => {
  const counts = new Map<number, number>()
  for (const { page } of targets) counts.set(page, (counts.get(page) ?? 0) + 1)
  const own = [...counts].find(([page, count]) => count >= 4 && pageOfNumber(page).column === 0 && pageOfNumber(page).row === 0)
  return (own ?? [...counts].sort((a, b) => b[1] - a[1])[0])?.[0] ?? 0
}

/** Fewest targets that can tell lens distortion from their own scatter. */
const leastForRadial = 6
/** The term is kept when it is this many of its own standard deviations from zero. */
const radialSignificance = 3.5

/** The sheet's map from all matched targets, with the lens term when the residuals support it. */
export const robustSheet = (match: PageMatch, frame: FitFrame): RobustSheet | null => {
  const first = firstPage(match.targets)
  const joined = [...new Set(match.targets.map(({ page }) => page))].filter((page) => page !== first)
  const shifts = joined.flatMap(() => [0, 0, 0])
  const start = startOf(frame, match.homography)
  const plain = fitLeavingOut({ frame, radial: false, joined }, match.targets, [...start, ...shifts])
  if (match.targets.length < leastForRadial) return plain
  const bent = fitLeavingOut({ frame, radial: true, joined }, match.targets, [...start, 0, ...shifts])
  if (bent === null) return plain
  const uK = bent.sigmaPx * Math.sqrt(bent.solution.inverseNormal[8]?.[8] ?? Number.POSITIVE_INFINITY)
  const k = bent.solution.parameters[8] ?? 0
  return plain === null || Math.abs(k) > radialSignificance * uK ? bent : plain
}
