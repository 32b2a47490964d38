import { longRunSum } from '#core/numeric/long-run-sum'
import { robustFit } from '#core/numeric/robust-fit'
import type { CentreEstimate } from './centre-estimate.ts'
import type { Point } from '#core/detect/raster'
import { mean } from '#core/numeric/moments'

/** How far a stroke starts and ends from the centre, and in which direction, plane. */
export interface StrokeEnds {
  readonly bearing: readonly [x: number, y: number]
  readonly inner: number
  readonly outer: number
}

/** How unevenly strokes start, as a share of the radius; worth one stroke (common practice, no source). */
const UNEVEN = 0.02
const ROUNDS = 2
const LEAST_STROKES = 8
/** Ends in a row that err alike tell less: so many neighbours are looked at. */
const NEIGHBOURS = 6
/** Even independent-looking ends drift, as a hand's reach does round an arc (common practice, no source). */
const DRIFT = 1.25

/** Factor by which means of values in order scatter more than independent ones would; at least 1. */
const alike = (row: Float64Array): number => {
  const own = longRunSum(row, 0)
  return own > 0 ? Math.max(1, longRunSum(row, Math.min(NEIGHBOURS, Math.floor(row.length / 4))) / own) : 1
}

const evenly = (strokes: readonly StrokeEnds[], centre: Point, end: 'inner' | 'outer'): CentreEstimate | null => {
  const places = strokes.map((s): Point => [centre[0] + s.bearing[0] * s[end], centre[1] + s.bearing[1] * s[end]])
  let now = centre
  for (let round = 0; ; round++) {
    const radii = places.map((p) => Math.hypot(p[0] - now[0], p[1] - now[1]))
    const rows = places.map((p, i) => [(p[0] - now[0]) / (radii[i] as number), (p[1] - now[1]) / (radii[i] as number), 1])
    const usual = mean(radii)
    const fit = robustFit(rows, radii, { usual: { scatter: UNEVEN * usual, worth: 1 }, expected: [1, 1, 1].map(() => Number.POSITIVE_INFINITY) })
    if (fit === null) return null
    const [dx, dy] = fit.coefficients as [number, number]
    now = [now[0] + dx, now[1] + dy]
    if (round < ROUNDS - 1) continue
    const kept = fit.residuals.map((r) => Math.max(-3, Math.min(3, r / fit.scatter)))
    const factor = DRIFT * alike(kept)
    const [[xx, xy], [, yy]] = fit.covariance as [[number, number], [number, number]]
    const known = Number.isFinite(now[0] + now[1]) && xx * yy - xy * xy > 0
    return known ? { centre: now, covariance: [xx * factor, xy * factor, yy * factor] } : null
  }
}

/**
 * Centre of the circle that the strokes start on, or end on, whichever they do more evenly: hands that draw along a guide start all at one
 * radius. Over a part of a turn it tells most across the middle bearing, and something along it.
 * @param strokes as seen from `centre`, in order of bearing
 * @returns null for fewer than eight strokes
 */
export const centreEnds = (strokes: readonly StrokeEnds[], centre: Point): CentreEstimate | null => {
  if (strokes.length < LEAST_STROKES) return null
  const found = (['inner', 'outer'] as const).flatMap((end) => evenly(strokes, centre, end) ?? [])
  return found.sort((a, b) => a.covariance[0] + a.covariance[2] - b.covariance[0] - b.covariance[2])[0] ?? null
}
