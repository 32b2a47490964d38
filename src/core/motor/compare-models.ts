import { linearLeastSquares } from '#core/numeric/least-squares'
import type { FullModel } from './choose-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { devianceOf } from './noise-of.ts'
import type { BlockEvidence } from './weigh-blocks.ts'

/** One row of the comparison: the lower the criterion, the better the model pays for its parameters. */
export interface ModelRow {
  /** `even`, `harmonics`, `rest model` or `rest model without …`. */
  readonly model: string
  readonly parameters: number
  /** −2 log likelihood less that of the best row. */
  readonly deviance: number
  /** Bayesian information criterion, deviance + parameters·ln(rests), less that of the best row. */
  readonly bic: number
}

/** Least squares of sines and cosines of the given orders with one zero per direction; squares left, null when N shows too few places. */
const harmonicSquares = (pattern: FoldedPattern, orders: readonly number[]): { squares: number; parameters: number } | null => {
  const cells = pattern.legs.flatMap(({ direction, mean, count }) =>
    Array.from(mean, (value, i) => ({ direction, value, phi: (2 * Math.PI * i) / pattern.phases, weight: Math.sqrt(count[i] as number) })),
  )
  const zeros = pattern.legs.map((leg) => cells.map((cell) => (cell.direction === leg.direction ? cell.weight : 0)))
  const waves = orders.flatMap((order) => [
    cells.map((cell) => cell.weight * Math.cos(order * cell.phi)),
    cells.map((cell) => cell.weight * Math.sin(order * cell.phi)),
  ])
  const columns = [...zeros, ...waves]
  const fit = linearLeastSquares(columns, cells.map((cell) => cell.weight * cell.value))
  return fit && { squares: fit.residualSumOfSquares, parameters: columns.length }
}

/** Squares about one zero for all. */
const evenSquares = (pattern: FoldedPattern): number =>
  pattern.legs.reduce((sum, { mean, count }) => sum + mean.reduce((part, value, i) => part + (count[i] as number) * value * value, 0), 0)

/** Compares an even motor, plain harmonics of orders 1, 2 and 4, the rest model, and the rest model without each of its blocks. */
export const compareModels = (pattern: FoldedPattern, full: FullModel, evidence: readonly BlockEvidence[]): readonly ModelRow[] => {
  const harmonics = harmonicSquares(pattern, [1, 2, 4])
  const rows = [
    { model: 'even', parameters: 1, squares: evenSquares(pattern) },
    ...(harmonics === null ? [] : [{ model: 'harmonics', ...harmonics }]),
    { model: 'rest model', parameters: full.fit.places.length, squares: full.fit.squares },
    ...evidence.map(({ block, without }) => ({
      model: `rest model without ${block}`,
      parameters: without.places.length,
      squares: without.squares,
    })),
  ].map(({ model, parameters, squares }) => {
    const deviance = devianceOf(pattern, full.noise, squares)
    return { model, parameters, deviance, bic: deviance + parameters * Math.log(pattern.rests) }
  })
  const lowest = Math.min(...rows.map((row) => row.deviance))
  const best = Math.min(...rows.map((row) => row.bic))
  return rows.map((row) => ({ ...row, deviance: row.deviance - lowest, bic: row.bic - best }))
}
