import { robustFit } from '#core/numeric/robust-fit'
import type { Point } from '#core/detect/raster'

/** A stroke's line in the plane of the paper. */
export interface StrokeLine {
  readonly middle: Point
  /** Unit vector. */
  readonly along: Point
  readonly length: number
  /** Standard uncertainty of its direction as it was seen, rad. */
  readonly uAlong: number
}

export interface CentreEstimate {
  readonly centre: Point
  /** Plane units squared: [xx, xy, yy]. */
  readonly covariance: readonly [number, number, number]
}

/** How much hands lean, rad: 0.4° about the direction to the shaft; worth one stroke (common practice, no source). */
const USUAL = { scatter: 0.007, worth: 1 } as const
/** What all leans of a hand have in common, in units of their scatter; and no more than so much, rad (common practice, no source). */
const COMMON = 0.5
const MOST_COMMON = 0.005
/** A pen that runs along a pointer's edge leans as much as may be: so many scatters, and of its own standard uncertainties from none. */
const CLEAR = { scatters: 2, uncertainties: 4 } as const
/** Strokes that all lean by more, rad, would not have been taken for marks: over a short arc a centre beside the marks explains any lean. */
const MOST_LEAN = 0.12
const ROUNDS = 4

/** In which sense a line is turned so that it points outward from the centre, and its lean from there, rad. */
const leanOf = ({ middle, along }: StrokeLine, [cx, cy]: Point): { readonly lean: number; readonly row: readonly [number, number, number] } => {
  const [rx, ry] = [middle[0] - cx, middle[1] - cy]
  const radius = Math.hypot(rx, ry)
  const out = rx * along[0] + ry * along[1] < 0 ? -1 : 1
  const [nx, ny] = [-along[1] * out, along[0] * out]
  return { lean: (nx * rx + ny * ry) / radius, row: [nx / radius, ny / radius, 1] }
}

interface Aim extends CentreEstimate {
  readonly common: number
  readonly uCommon: number
  /** Standard deviation of a lean that was seen exactly, rad. */
  readonly scatter: number
}

/** @param common how much all leans may have in common, rad, given their scatter */
const aimOf = (lines: readonly StrokeLine[], start: Point, common: (scatter: number) => number): Aim | null => {
  let centre = start
  let scatter: number = USUAL.scatter
  for (let round = 0; ; round++) {
    // Lines that were seen less well than the hand leans count for less.
    const trust = lines.map((line) => scatter / Math.hypot(scatter, line.uAlong))
    const seen = lines.map((line) => leanOf(line, centre))
    const rows = seen.map(({ row }, i) => row.map((v) => v * (trust[i] as number)))
    const fit = robustFit(rows, seen.map(({ lean }, i) => lean * (trust[i] as number)), { usual: USUAL, expected: [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, common(scatter) / scatter] })
    if (fit === null) return null
    const [dx, dy, lean] = fit.coefficients as [number, number, number]
    centre = [centre[0] + dx, centre[1] + dy]
    scatter = fit.scatter
    if (round < ROUNDS - 1) continue
    const [[xx, xy], [, yy], [, , uu]] = fit.covariance as [[number, number, number], [number, number, number], [number, number, number]]
    const known = Number.isFinite(centre[0] + centre[1]) && xx > 0 && yy > 0 && xx * yy - xy * xy > 1e-12 * xx * yy
    return known ? { centre, covariance: [xx, xy, yy], common: lean, uCommon: Math.sqrt(uu), scatter } : null
  }
}

/** How far lines are from all parallel, which meet nowhere: 1 for directions all round. */
const spreadOf = (lines: readonly StrokeLine[]): number => {
  const [xx, xy, yy] = lines.reduce(([a, b, c], { along: [x, y] }) => [a + x * x, b + x * y, c + y * y], [0, 0, 0]) as [number, number, number]
  return (4 * (xx * yy - xy * xy)) / (xx + yy) ** 2
}

const leansClearly = ({ common, uCommon, scatter }: Aim): boolean => Math.abs(common) < MOST_LEAN && Math.abs(common) > CLEAR.scatters * scatter + CLEAR.uncertainties * uCommon

/**
 * Where the strokes' lines meet: least robust squared lean (Tukey weights). Each line is trusted to the scatter of the leans
 * themselves, so hands that draw truly give a better centre. A lean that all have in common, as of a pen held to a pointer's edge,
 * turns the lines about a circle instead: it is left open within what hands do, and altogether where the strokes show it beyond doubt.
 * @returns null for fewer than three lines or lines that are all parallel
 */
export const centreFromStrokes = (lines: readonly StrokeLine[], start: Point): CentreEstimate | null => {
  if (lines.length < 3 || spreadOf(lines) < 1e-10) return null
  const usual = aimOf(lines, start, (scatter) => Math.min(COMMON * scatter, MOST_COMMON))
  const open = aimOf(lines, usual?.centre ?? start, () => Number.POSITIVE_INFINITY)
  return open !== null && leansClearly(open) ? open : usual
}
