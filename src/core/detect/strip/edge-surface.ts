import { lensOf, MOST_TILT } from '#core/detect/lens'
import { type PlaneMap, planeMap, radialAbout, straighten } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import type { Surface } from '#core/detect/surface'
import { cholesky } from '#core/numeric/cholesky'
import type { Homography } from '#core/numeric/homography'
import { fitNonlinear } from '#core/numeric/fit-nonlinear'
import { medianOrZero } from '#core/numeric/median'
import { extremes } from '#core/numeric/moments'
import { cross, times, type Vector3 } from '#core/numeric/vector3'
import { type StripEdges, stripEdges } from './strip-edges.ts'
import type { StripMark } from './strip-marks.ts'
import { fitSlope } from '#core/numeric/fit-slope'

/** Radial distortion of usual lenses at the picture’s corner: holds what straight edges leave open. */
const USUAL_K = 0.015
/** Half a row that runs along four fifths of the picture, over its longer side. */
const HALF_ROW = 0.4
/** Edges cut by hand are straight to about this, px at least. */
const LEAST_SIGMA_PX = 0.15

/** A strip cut by hand is about this share of its width narrower at one end than at the other, as a standard uncertainty (common practice, no source). */
const TAPER = 0.007

const BY_EDGES = 'perspective was told from the strip’s two long edges, taken as parallel: if a ruler lies along one of them, or the strip was cut unevenly, take it off for the photo or use the printed sheet'

const COVERED = 'the strip’s long edges were not used: something straight lies along one of them or just beside it, as a ruler would; take it 5 cm away from the strip for the photo, or come so near that its ticks can be told apart'

/** Frame of the row: t along, s across, in units of half its length about its middle. */
interface Frame {
  readonly middle: Point
  readonly e: Point
  readonly half: number
}

/** Two edges as s = a + b·t and the lens's radial term. */
type Parameters = readonly [a1: number, b1: number, a2: number, b2: number, k: number]

const inFrame = ({ middle, e, half }: Frame, [x, y]: Point): Point => [((x - middle[0]) * e[0] + (y - middle[1]) * e[1]) / half, ((y - middle[1]) * e[0] - (x - middle[0]) * e[1]) / half]

const idealIn = (frame: Frame, raster: Raster, k: number): ((p: Point) => Point) => {
  const radial = radialAbout(raster.width, raster.height, k)
  return (p) => inFrame(frame, straighten(radial, p))
}

/** A place this many times as far off as most, and farther than that many px, belongs to something that lies over the edge. */
const OFF = 3
const LEAST_OFF_PX = 0.5

/** Signed departures of the places from their edge, px. */
const departures = (frame: Frame, raster: Raster, edges: StripEdges) => ([a1 = 0, b1 = 0, a2 = 0, b2 = 0, k = 0]: readonly number[]): readonly number[][] => {
  const ideal = idealIn(frame, raster, k)
  const off = (points: readonly Point[], a: number, b: number): number[] => points.map((p) => {
    const [t, s] = ideal(p)
    return (s - a - b * t) * frame.half
  })
  return [off(edges[0], a1, b1), off(edges[1], a2, b2)]
}

/** Both edges straight once the lens is taken out; places off them left out, a few at a time. */
const fitEdges = (raster: Raster, frame: Frame, all: StripEdges) => {
  const heightOf = (points: readonly Point[]): number => points.reduce((sum, p) => sum + inFrame(frame, p)[1] / points.length, 0)
  let [edges, sigma] = [all, 1]
  const residuals = (parameters: readonly number[]): number[] => [...departures(frame, raster, edges)(parameters).flat().map((v) => v / sigma), (parameters[4] ?? 0) / USUAL_K]
  let fit = fitNonlinear(residuals, [heightOf(all[0]), 0, heightOf(all[1]), 0, 0], [0.1, 0.1, 0.1, 0.1, 0.02])
  for (let round = 0; round < 4; round++) {
    const off = departures(frame, raster, all)(fit.parameters)
    const usual = medianOrZero(off.flat().map(Math.abs))
    edges = [0, 1].map((i) => (all[i] as readonly Point[]).filter((_, n) => Math.abs(off[i]?.[n] ?? 0) < Math.max(LEAST_OFF_PX, OFF * usual))) as unknown as StripEdges
    sigma = Math.max(LEAST_SIGMA_PX, usual / 0.6745)
    fit = fitNonlinear(residuals, fit.parameters, [0.1, 0.1, 0.1, 0.1, 0.02])
  }
  return fit
}

/** Turn of upright lines over half the row by a tilt that nothing shows, as a standard uncertainty. */
const openTurn = (raster: Raster): number => ((HALF_ROW / lensOf(raster).focal) * Math.tan(MOST_TILT)) / Math.sqrt(3)

/** Mean direction of the strokes across the row (lean, rad) and how it turns along it, with the latter's standard uncertainty. */
const turnOfStrokes = (marks: readonly StripMark[], raster: Raster, ideal: (p: Point) => Point): { readonly lean: number; readonly turn: number; readonly uTurn: number } => {
  if (marks.every((m) => m.kind === 'spot')) return { lean: 0, turn: 0, uTurn: openTurn(raster) }
  const seen = marks.map(({ fit: { model } }) => {
    const [a, b] = [ideal(centreLineAt(model, -1)), ideal(centreLineAt(model, 1))]
    return { t: (a[0] + b[0]) / 2, lean: (b[0] - a[0]) / (b[1] - a[1]) }
  })
  const { mean, height, slope: turn, spread } = fitSlope(seen.map((v) => v.t), seen.map((v) => v.lean))
  const rest = seen.reduce((s, v) => s + (v.lean - height - turn * (v.t - mean)) ** 2, 0) / Math.max(1, seen.length - 2)
  return { lean: height - turn * mean, turn, uTurn: Math.sqrt(rest / spread) }
}

/** The map in which both edges are parallel to x and the strokes to y; a unit is a px at the row's middle. */
const mapOf = ([a1, b1, a2, b2, k]: Parameters, lean: number, turn: number, frame: Frame, raster: Raster): PlaneMap | null => {
  const along = cross([b1, -1, a1], [b2, -1, a2])
  const across: Vector3 = [lean, 1, -turn]
  const horizon = cross(along, across)
  const middle: Vector3 = [0, 0, 1]
  const unit = horizon[2]
  if (!(Math.abs(unit) > 1e-12)) return null
  const xLine = cross(across, middle)
  const yLine = cross(along, middle)
  const w = times(1 / unit, horizon)
  const x = times(frame.half / xLine[0], xLine)
  const y = times(frame.half / yLine[1], yLine)
  const { middle: [mx, my], e: [ex, ey], half } = frame
  const toFrame = ([p, q, r]: Vector3): Vector3 => [(p * ex - q * ey) / half, (p * ey + q * ex) / half, r - (p * (mx * ex + my * ey) + q * (my * ex - mx * ey)) / half]
  const rows: Homography = [...toFrame(x), ...toFrame(y), ...toFrame(w)]
  return rows.every(Number.isFinite) ? planeMap(rows, radialAbout(raster.width, raster.height, k)) : null
}

/**
 * The plane of a strip whose two long edges are in view while its ends are not: the edges are parallel, which gives the vanishing
 * point along the strip, and straight, which gives the lens; the strokes are parallel, which gives the other vanishing point. Places
 * along the row come out right but for one scale.
 * @param marks placed in the photo itself
 * @returns the given surface where no two such edges are seen
 */
export const edgeSurface = (raster: Raster, marks: readonly StripMark[], surface: Surface): Surface => {
  if (marks.length < 5) return surface
  const ends = [marks[0] as StripMark, marks[marks.length - 1] as StripMark].map((m) => m.middle) as [Point, Point]
  const row = Math.hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
  const across: Point = [(ends[0][1] - ends[1][1]) / row, (ends[1][0] - ends[0][0]) / row]
  const [low, high] = extremes(marks.map(({ middle: [x, y] }) => x * across[0] + y * across[1]))
  const edges = stripEdges(raster, { from: ends[0], to: ends[1], halfPx: medianOrZero(marks.map((m) => m.length)) / 2 + (high - low) / 4 })
  if (edges === null) return surface
  if (edges === 'covered') return { ...surface, doubts: [...surface.doubts, COVERED] }
  const half = row / 2
  const frame: Frame = { middle: [(ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2], e: [(ends[1][0] - ends[0][0]) / (2 * half), (ends[1][1] - ends[0][1]) / (2 * half)], half }
  const fit = fitEdges(raster, frame, edges)
  const parameters = fit.parameters as unknown as Parameters
  const { lean, turn, uTurn } = turnOfStrokes(marks, raster, idealIn(frame, raster, parameters[4]))
  const map = mapOf(parameters, lean, turn, frame, raster)
  const lower = fit.cofactors === null ? null : cholesky(fit.cofactors)
  if (map === null || lower === null) return surface
  const moved = parameters.flatMap((_, j) => mapOf(parameters.map((v, i) => v + (lower[i]?.[j] ?? 0)) as unknown as Parameters, lean, turn, frame, raster) ?? [])
  const [a1, b1, a2, b2, k] = parameters
  const tapered = mapOf([a1, b1 + (TAPER * (a1 - a2)) / 2, a2, b2, k], lean, turn, frame, raster)
  const turned = mapOf(parameters, lean, turn + uTurn, frame, raster)
  return { ...surface, by: 'edges', map, metric: false, alternatives: [...moved, turned, tapered].flatMap((m) => m ?? []), loose: false, doubts: [BY_EDGES] }
}
