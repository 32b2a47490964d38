import { fitLinear } from './fit-linear.ts'

/** Angle errors of one photo, deg. */
export interface Residuals {
  /** After one common rotation only. */
  readonly errors: readonly number[]
  /** After the once- and (full turn) twice-per-turn terms too, scaled for the fitted freedom: what each mark adds of its own. */
  readonly local: readonly number[]
  /** The same with each mark counted by its own uncertainty: what a mark that says it is doubtful is off by is no error of the others. */
  readonly localByU: readonly number[]
}

const wrap = (deg: number): number => deg - 360 * Math.round(deg / 360)

const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b)
  return ((sorted[Math.floor((sorted.length - 1) / 2)] ?? 0) + (sorted[Math.ceil((sorted.length - 1) / 2)] ?? 0)) / 2
}

const without = (values: readonly number[], rows: readonly (readonly number[])[], u: readonly number[] = values.map(() => 1)): readonly number[] => {
  const width = rows[0]?.length ?? 0
  if (values.length <= width + 2) return values
  const coefficients = fitLinear(rows.map((r, i) => r.map((v) => v / (u[i] ?? 1))), values.map((v, i) => v / (u[i] ?? 1)))
  const scale = Math.sqrt(values.length / (values.length - width))
  return values.map((v, i) => scale * (v - (rows[i] ?? []).reduce((s, r, j) => s + r * (coefficients[j] ?? 0), 0)))
}

/** Measured values with their own standard uncertainties, same unit. */
export interface Measured {
  readonly values: readonly number[]
  readonly u: readonly number[]
}

/**
 * Compares measured bearings, deg, with those of the ink.
 * @param radii of the marks' middles, any unit: what a wrong centre does to a bearing goes with 1/radius
 */
export const angleResiduals = ({ values: measuredDeg, u }: Measured, inkDeg: readonly number[], radii: readonly number[], fullTurn: boolean): Residuals => {
  const raw = measuredDeg.map((m, i) => wrap(m - (inkDeg[i] ?? 0)))
  const middle = median(raw)
  const near = raw.map((r) => wrap(r - middle))
  const mean = near.reduce((a, b) => a + b, 0) / Math.max(1, near.length)
  const errors = near.map((r) => r - mean)
  const usual = median(radii)
  const rows = inkDeg.map((deg, i) => {
    const a = (deg * Math.PI) / 180
    const nearer = usual / (radii[i] ?? usual)
    return [1, nearer * Math.cos(a), nearer * Math.sin(a), ...(fullTurn ? [Math.cos(2 * a), Math.sin(2 * a)] : [])]
  })
  return { errors, local: without(errors, rows), localByU: without(errors, rows, u) }
}

/** Strip: errors after one common offset, mm, whichever end the tool counts from; `scaled` fits the scale too (positions in px). */
export const lineResiduals = ({ values: measured, u }: Measured, inkMm: readonly number[], scaled: boolean): Residuals => {
  if (inkMm.length < 3) return { errors: [], local: [], localByU: [] }
  const rows = inkMm.map(() => [1])
  const withScale = inkMm.map((mm) => [1, mm])
  const coefficients = fitLinear(withScale, measured)
  const slope = coefficients[1] ?? 1
  const unit = scaled ? slope : Math.sign(slope)
  const mm = measured.map((m, i) => m / unit - (inkMm[i] ?? 0))
  const bowed = inkMm.map((x) => [1, x, x * x])
  return { errors: without(mm, rows), local: without(mm, bowed), localByU: without(mm, bowed, u) }
}
