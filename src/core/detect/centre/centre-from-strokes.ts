import { robustFit } from '#core/numeric/robust-fit'
import { fitWandering, type Placed, type Wander } from '#core/numeric/wandering-fit'
import type { Point } from '#core/detect/raster'
import type { CentreEstimate } from './centre-estimate.ts'
import { type LikelyCentre, mixedCentres } from './mixed-centres.ts'

/** A stroke's line in the plane of the paper. */
export interface StrokeLine {
  readonly middle: Point
  /** Unit vector. */
  readonly along: Point
  readonly length: number
  /** Standard uncertainty of its direction as it was seen, rad. */
  readonly uAlong: number
}

/** How much hands lean, rad: 0.4° about the direction to the shaft; worth one stroke (common practice, no source). */
const USUAL = { scatter: 0.007, worth: 1 } as const
/** Rounds of the fit that start from afar, and all of them. */
const FROM_AFAR = 3
const ROUNDS = 5

/** What all leans have in common: how far from 0, rad, given their scatter, and in what share of the traces. */
interface Common {
  readonly spread: (scatter: number) => number
  readonly chance: number
}

/** A hand's own lean, in units of its scatter; or that of a pen run along a pointer's edge, which passes the shaft by some mm (common practice, no source). */
const COMMON: readonly Common[] = [
  { spread: (scatter) => Math.min(0.5 * scatter, 0.005), chance: 0.92 },
  { spread: () => 0.03, chance: 0.08 },
]

/** How leans may wander along the marks, as a hand is moved on or the paper turned: reach in usual gaps or in rad (common practice, no source). */
const STEADY: Wander & { readonly chance: number } = { share: 0, reach: 1, chance: 0.75 }
const SHARES = [0.3, 2, 12]
const REACHES = { gaps: [2, 8], rad: [1] } as const

const wandersAlong = (gap: number): readonly (Wander & { readonly chance: number })[] => {
  const reaches = [...REACHES.gaps.map((n) => n * gap), ...REACHES.rad]
  const chance = (1 - STEADY.chance) / (reaches.length * SHARES.length)
  return [STEADY, ...reaches.flatMap((reach) => SHARES.map((share) => ({ share, reach, chance })))]
}

/**
 * A line's lean from the centre outward, rad, and how it changes with the centre: near its place across the bearing; from afar across the line
 * itself, which leads there in one step, yet has the line's own error in it, which would pull the centre.
 */
const leanOf = ({ middle, along }: StrokeLine, [cx, cy]: Point, afar: boolean): { readonly lean: number; readonly row: readonly [number, number, number] } => {
  const [rx, ry] = [middle[0] - cx, middle[1] - cy]
  const radius = Math.hypot(rx, ry)
  const out = rx * along[0] + ry * along[1] < 0 ? -1 : 1
  const [nx, ny] = [-along[1] * out, along[0] * out]
  const lean = (nx * rx + ny * ry) / radius
  const turned = afar ? 0 : lean / radius
  return { lean, row: [(nx - turned * rx) / radius, (ny - turned * ry) / radius, 1] }
}

/** Where the lines meet by a robust fit, and what each of them says about it: leans, those far off the others bounded. */
interface Aim {
  readonly centre: Point
  readonly scatter: number
  readonly leans: readonly number[]
  readonly rows: readonly (readonly number[])[]
  /** Variance of each lean, in units of a hand's: lines that were seen less well than the hand leans count for less. */
  readonly variances: readonly number[]
}

const aimOf = (lines: readonly StrokeLine[], start: Point): Aim | null => {
  let centre = start
  let scatter: number = USUAL.scatter
  for (let round = 0; ; round++) {
    const trust = lines.map((line) => scatter / Math.hypot(scatter, line.uAlong))
    const seen = lines.map((line) => leanOf(line, centre, round < FROM_AFAR))
    const rows = seen.map(({ row }, i) => row.map((v) => v * (trust[i] as number)))
    const expected = (COMMON[0] as Common).spread(scatter) / scatter
    const fit = robustFit(rows, seen.map(({ lean }, i) => lean * (trust[i] as number)), { usual: USUAL, expected: [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, expected] })
    if (fit === null) return null
    const [dx, dy, common] = fit.coefficients as [number, number, number]
    centre = [centre[0] + dx, centre[1] + dy]
    scatter = fit.scatter
    if (!Number.isFinite(centre[0] + centre[1])) return null
    if (round < ROUNDS - 1) continue
    return { centre, scatter, leans: lines.map((_, i) => common + (fit.bounded[i] as number) / (trust[i] as number)), rows: lines.map((line) => leanOf(line, centre, false).row), variances: trust.map((t) => 1 / (t * t)) }
  }
}

const TURN = 2 * Math.PI

/** The values in order of bearing, from the far side of the widest gap on. */
const inOrder = (lines: readonly StrokeLine[], { centre: [cx, cy], leans, rows, variances }: Aim): Placed => {
  const bearings = lines.map(({ middle }) => Math.atan2(middle[1] - cy, middle[0] - cx))
  const order = bearings.map((_, i) => i).sort((a, b) => (bearings[a] as number) - (bearings[b] as number))
  const sorted = order.map((i) => bearings[i] as number)
  const gaps = sorted.map((b, i) => (i === 0 ? b + TURN - (sorted.at(-1) as number) : b - (sorted[i - 1] as number)))
  const first = gaps.indexOf(Math.max(...gaps))
  const from = [...order.slice(first), ...order.slice(0, first)]
  const start = bearings[from[0] as number] as number
  return { rows: from.map((i) => rows[i] as readonly number[]), values: from.map((i) => leans[i] as number), variances: from.map((i) => variances[i] as number), places: from.map((i) => ((bearings[i] as number) - start + TURN) % TURN) }
}

/** Where the lines meet if leans have so much in common and wander so. */
const estimate = (placed: Placed, { centre, scatter }: Aim, common: Common, wander: Wander & { readonly chance: number }): LikelyCentre[] => {
  const usual = { variance: USUAL.scatter ** 2, worth: USUAL.worth }
  const given = (variance: number) => fitWandering(placed, { wander, usual, precision: [0, 0, variance / common.spread(Math.sqrt(variance)) ** 2] })
  const fit = given(given(scatter ** 2)?.variance ?? scatter ** 2)
  if (fit === null) return []
  const [dx, dy] = fit.coefficients as [number, number]
  const [[xx, xy], [, yy]] = fit.covariance as [[number, number], [number, number]]
  const known = xx > 0 && yy > 0 && xx * yy - xy * xy > 1e-12 * xx * yy
  return known ? [{ centre: [centre[0] + dx, centre[1] + dy], covariance: [xx, xy, yy], logWeight: fit.evidence + Math.log(common.chance * wander.chance) }] : []
}

/** How far lines are from all parallel, which meet nowhere: 1 for directions all round. */
const spreadOf = (lines: readonly StrokeLine[]): number => {
  const [xx, xy, yy] = lines.reduce(([a, b, c], { along: [x, y] }) => [a + x * x, b + x * y, c + y * y], [0, 0, 0]) as [number, number, number]
  return (4 * (xx * yy - xy * xy)) / (xx + yy) ** 2
}

/**
 * Where the strokes' lines meet: least robust squared lean (Tukey weights). Each line is trusted to the scatter of the leans
 * themselves, so hands that draw truly give a better centre. Leans may have something in common, as of a pen run along a pointer's edge,
 * which turns the lines about a circle instead, and may wander from mark to mark; over part of a turn hardly anything tells that from
 * another centre. Each way counts as likely as the leans make it, and what they leave open between them is in the covariance.
 * @returns null for fewer than three lines or lines that are all parallel
 */
export const centreFromStrokes = (lines: readonly StrokeLine[], start: Point): CentreEstimate | null => {
  if (lines.length < 3 || spreadOf(lines) < 1e-10) return null
  const aim = aimOf(lines, start)
  if (aim === null) return null
  const placed = inOrder(lines, aim)
  const gap = (placed.places.at(-1) as number) / (lines.length - 1)
  const ways = COMMON.flatMap((common) => wandersAlong(gap).flatMap((wander) => estimate(placed, aim, common, wander)))
  return ways.length === 0 ? null : mixedCentres(ways)
}
