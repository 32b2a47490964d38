import { cholesky } from '#core/numeric/cholesky'
import { type Homography, invertHomography } from '#core/numeric/homography'
import { fitNonlinear } from '#core/numeric/fit-nonlinear'
import { type PlaneMap, planeMap, radialAbout, straighten } from '#core/detect/plane-map'
import type { Picture, Point } from '#core/detect/raster'
import { lensCost, lensOf, lnFocalsAbout, RADIAL_SPREAD } from '#core/detect/lens'
import { median } from '#core/numeric/median'
import type { Vector3 } from '#core/numeric/vector3'
import { type Camera, type SidePoints, startCamera, turned } from './start-camera.ts'

export interface CameraFit {
  readonly map: PlaneMap
  /** The map moved by one standard deviation along each independent direction of its uncertainty. */
  readonly alternatives: readonly PlaneMap[]
  /** Sum of squares in units of variance, the lens's prior included. */
  readonly cost: number
  /** Robust rms distance of the traced places, four neighbours together, from the fitted sides, px. */
  readonly residualPx: number
}

/** Optical axis from the picture's middle, as a share of its longer side (common practice, no source). */
const AXIS_SPREAD = 0.01
/** How truly a sheet is cut and lies, mm at a side's middle and from end to end (common practice, no source). */
const CUT_MM = 0.1
/** Neighbouring places share the same unevenness of the cut and the shadow: so many together count as one. */
const RUN = 4
/** Steps of the fit before what does not belong is left out, and after. */
const STEPS = [12, 6, 6] as const
/** An edge is not placed more truly than this, px, whatever its scatter: sharpening and shadows move it as a whole. */
const LEAST_SIGMA_PX = 0.1
const CORE = 10

type Size = readonly [width: number, height: number]

/** p: ln f, three small turns, three shares of the distance, k, the axis's offset; then two per side for its cut. */
const mapOf = (start: Camera, p: readonly number[], { width, height }: Picture): PlaneMap => {
  const long = Math.max(width, height)
  const [lnF = 0, rx = 0, ry = 0, rz = 0, tx = 0, ty = 0, tz = 0, k = 0, ax = 0, ay = 0] = p
  const f = long * Math.exp(lnF)
  const cx = (width - 1) / 2 + ax * long
  const cy = (height - 1) / 2 + ay * long
  const [u, v] = [turned(start.right, [rx, ry, rz]), turned(start.down, [rx, ry, rz])]
  const [x, y, reach] = start.corner
  const t: Vector3 = [x + tx * reach, y + ty * reach, reach * Math.exp(lnF - start.lnFocal + tz)]
  const columns = [u, v, t] as const
  const toPhoto = [...columns.map((c) => f * c[0] + cx * c[2]), ...columns.map((c) => f * c[1] + cy * c[2]), ...columns.map((c) => c[2])]
  return planeMap(invertHomography(toPhoto as unknown as Homography), radialAbout(width, height, k))
}

/** The side as a line A·x + B·y + C = 0 in mm, moved by `off` and slanted by `slant` mm over its length. */
const sideLine = (side: number, [w, h]: Size, off: number, slant: number): Vector3 => {
  const level = (side === 1 ? w : side === 2 ? h : 0) + off - slant / 2
  return side % 2 === 0 ? [-slant / w, 1, -level] : [1, -slant / h, -level]
}

const distances = (map: PlaneMap, { side, points }: SidePoints, size: Size, [off, slant]: readonly [number, number]): number[] => {
  const [A, B, C] = sideLine(side, size, off, slant)
  const [a, b, c, d, e, f, g, h, i] = map.homography
  const line = [a * A + d * B + g * C, b * A + e * B + h * C, c * A + f * B + i * C] as const
  const scale = 1 / Math.hypot(line[0], line[1])
  return points.map((p) => {
    const [x, y] = straighten(map.radial, p)
    return scale * (line[0] * x + line[1] * y + line[2])
  })
}

const runMeans = (points: readonly Point[]): Point[] =>
  Array.from({ length: Math.floor(points.length / RUN) }, (_, i): Point => {
    const run = points.slice(i * RUN, (i + 1) * RUN)
    return [run.reduce((sum, p) => sum + p[0], 0) / RUN, run.reduce((sum, p) => sum + p[1], 0) / RUN]
  })

/** ln(focal length / longer side). */
const lnFocalOf = (picture: Picture): number => Math.log(lensOf(picture).focal)

const priors = (p: readonly number[], picture: Picture): number[] => [
  Math.sign((p[0] as number) - lnFocalOf(picture)) * Math.sqrt(lensCost(picture, p[0] as number)),
  (p[7] as number) / RADIAL_SPREAD,
  (p[8] as number) / AXIS_SPREAD,
  (p[9] as number) / AXIS_SPREAD,
  ...p.slice(CORE).map((v) => v / CUT_MM),
]

const SCALES = [0.1, 0.01, 0.01, 0.01, 0.01, 0.01, 0.01, 0.02, 0.01, 0.01]

interface Round {
  readonly sides: readonly SidePoints[]
  readonly parameters: readonly number[]
  readonly cofactors: readonly (readonly number[])[] | null
  readonly cost: number
  readonly sigma: number
}

const solve = ([start, size, picture]: readonly [Camera, Size, Picture], from: Round, steps: number): Round => {
  const weight = 1 / from.sigma
  const cut = (p: readonly number[], i: number): readonly [number, number] => [p[CORE + 2 * i] ?? 0, p[CORE + 2 * i + 1] ?? 0]
  const raw = (p: readonly number[]): number[][] => {
    const map = mapOf(start, p, picture)
    return from.sides.map((side, i) => distances(map, side, size, cut(p, i)))
  }
  const fit = fitNonlinear((p) => [...raw(p).flat().map((d) => d * weight), ...priors(p, picture)], from.parameters, [...SCALES, ...from.sides.flatMap(() => [0.1, 0.1])], steps)
  const left = raw(fit.parameters)
  const sigma = Math.max(LEAST_SIGMA_PX, median(left.flat().map(Math.abs)) / 0.6745)
  const sides = from.sides.map((side, i) => ({ ...side, points: side.points.filter((_, n) => Math.abs((left[i] as number[])[n] as number) < 4 * sigma + 0.05) }))
  return { sides, parameters: fit.parameters, cofactors: fit.cofactors, cost: fit.residualSumOfSquares, sigma }
}

/** Focal lengths tried first, in spreads about the usual one. */
const FOCALS = [0, -0.7, 0.7, 1.3, -1.3, 1.9]

/** Of several focal lengths, each with the pose that three sides then have, the one under which the fourth lies best. */
const bestStart = (traced: readonly SidePoints[], size: Size, picture: Picture): Camera | null => {
  const fourth = traced.find((t) => t.side === 2)
  if (fourth === undefined) return startCamera(traced, size, picture, lnFocalOf(picture))
  const tried = lnFocalsAbout(picture, FOCALS).flatMap((lnFocal) => {
    const camera = startCamera(traced, size, picture, lnFocal)
    return camera === null ? [] : [{ camera, off: median(distances(mapOf(camera, [camera.lnFocal], picture), fourth, size, [0, 0]).map(Math.abs)) + 0.3 * lensCost(picture, lnFocal) }]
  })
  return tried.sort((a, b) => a.off - b.off)[0]?.camera ?? null
}

/**
 * Pinhole camera (the photo's own or usual focal lengths, one radial term) that sees three or four sides of a right-angled sheet where they were
 * traced. Three sides (3, 0, 1) need no known length: their width sets the unit only.
 * @param size mm as the sheet lies
 * @returns null when the sides cannot be those of a sheet, or determine nothing
 */
export const fitCamera = (traced: readonly SidePoints[], size: Size, picture: Picture): CameraFit | null => {
  const means = traced.map((s) => ({ ...s, points: runMeans(s.points) }))
  const start = bestStart(means, size, picture)
  if (start === null) return null
  let round: Round = { sides: means, parameters: [start.lnFocal, ...Array(CORE - 1 + 2 * traced.length).fill(0)], cofactors: null, cost: 0, sigma: 1 }
  for (const steps of STEPS) {
    round = solve([start, size, picture], round, steps)
    if (round.sides.some((s) => s.points.length < 4)) return null
  }
  const lower = round.cofactors === null ? null : cholesky(round.cofactors.slice(0, CORE).map((row) => row.slice(0, CORE)))
  if (lower === null) return null
  const { parameters } = round
  const alternatives = Array.from({ length: CORE }, (_, j) => mapOf(start, parameters.map((v, i) => v + (lower[i]?.[j] ?? 0)), picture))
  const cost = priors(parameters, picture).reduce((sum, v) => sum + v * v, 0)
  return { map: mapOf(start, parameters, picture), alternatives, cost, residualPx: round.sigma }
}
