import { cholesky } from '#core/numeric/cholesky'
import { fitLine } from '#core/numeric/fit-line'
import { composeHomographies, type Homography } from '#core/numeric/homography'
import { fitNonlinear } from '#core/numeric/fit-nonlinear'
import { median, quantile } from '#core/numeric/median'
import { type PlaneMap, planeMap, radialAbout, straighten, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { fitSlope } from '#core/numeric/fit-slope'
import { rms } from '#core/numeric/moments'

/** A tick as seen: its number, the end on the ruler's line and the free one, px; step to its neighbour there, px. */
export interface SeenTick {
  readonly index: number
  readonly foot: Point
  readonly tip: Point
  readonly stepPx: number
}

export interface RulerFit {
  /** Plane: x in ticks along the ruler, y across it (its scale that of x at the ruler's middle). */
  readonly map: PlaneMap
  /** The map moved by one standard deviation along each independent direction of its doubt. */
  readonly alternatives: readonly PlaneMap[]
  /** rms sideways departure of the ticks' ends, px. */
  readonly rmsPx: number
  /** The ticks that fit. */
  readonly ticks: readonly SeenTick[]
}

/** Signed lengths of a ruler's ticks, in ticks. */
export const tickLengthsOf = ({ map, ticks }: RulerFit): number[] => ticks.map(({ foot, tip }) => toPlane(map, tip)[1] - toPlane(map, foot)[1])

/** The longest tick but for a few that may have run into something. */
export const longestOf = (lengths: readonly number[]): number => quantile(lengths.map(Math.abs), 0.97)

/** Radial distortion of usual lenses at the picture's corner, and how far a usual photo is tilted: only to hold what ticks leave open. */
const USUAL_K = 0.03
const USUAL_TILT = 0.4
const ROUNDS = 4
/** Median of the larger of two normal departures, in standard deviations: erf(x/√2)² = ½. */
const WORSE_OF_TWO = 1.0518
const SCALES = [1, 1, 1, 0.02, 0.02, 0.002] as const

/** The photo's size, px. */
export interface Frame {
  readonly width: number
  readonly height: number
}

const centred = ({ width, height }: Frame): Homography => {
  const s = 2 / Math.hypot(width, height)
  return [s, 0, (-s * (width - 1)) / 2, 0, s, (-s * (height - 1)) / 2, 0, 0, 1]
}

/** Ideal place in units of the half diagonal about the picture's middle. */
const idealPlace = (frame: Frame, k: number): ((p: Point) => Point) => {
  const radial = radialAbout(frame.width, frame.height, k)
  return (p) => {
    const [x, y] = straighten(radial, p)
    return [(x - radial.centrePx[0]) / radial.scalePx, (y - radial.centrePx[1]) / radial.scalePx]
  }
}

/** Sideways departures of all ends, in standard deviations, and of the lens and the tilt from the usual. */
const residualsOf = (ticks: readonly SeenTick[], frame: Frame, sigmaPx: number) => ([a = 0, b = 0, c = 0, g = 0, h = 0, k = 0]: readonly number[]): number[] => {
  const ideal = idealPlace(frame, k)
  const off = (p: Point, { index, stepPx }: SeenTick): number => {
    const [x, y] = ideal(p)
    return (((a * x + b * y + c) / (g * x + h * y + 1) - index) * stepPx) / sigmaPx
  }
  return [...ticks.flatMap((t) => [off(t.foot, t), off(t.tip, t)]), k / USUAL_K, g / USUAL_TILT, h / USUAL_TILT]
}

/** x = a·x + b·y + c without perspective, to begin with. */
const startFrom = (ticks: readonly SeenTick[], frame: Frame): number[] => {
  const ideal = idealPlace(frame, 0)
  const feet = ticks.map((t) => ideal(t.foot))
  const line = fitLine(feet)
  const [ux, uy] = line?.direction ?? [1, 0]
  const { mean, height, slope } = fitSlope(feet.map(([x, y]) => x * ux + y * uy), ticks.map((t) => t.index))
  return [slope * ux, slope * uy, height - slope * mean, 0, 0, 0]
}

/** The map of the parameters; y is the distance from the line through the ticks' feet. */
const mapOf = ([a = 0, b = 0, c = 0, g = 0, h = 0, k = 0]: readonly number[], ticks: readonly SeenTick[], frame: Frame): PlaneMap | null => {
  const ideal = idealPlace(frame, k)
  const line = fitLine(ticks.map((t) => ideal(t.foot)))
  if (line === null) return null
  const [ux, uy] = line.direction
  const [px, py] = line.point
  const w = g * px + h * py + 1
  const x = (a * px + b * py + c) / w
  const along = (a * ux + b * uy - x * (g * ux + h * uy)) / w
  const s = along * w
  const rows: Homography = [a, b, c, -s * uy, s * ux, s * (uy * px - ux * py), g, h, 1]
  return planeMap(composeHomographies(rows, centred(frame)), radialAbout(frame.width, frame.height, k))
}

/** One map for each column of the Cholesky factor of the parameters' covariance. */
const moved = (parameters: readonly number[], cofactors: readonly (readonly number[])[] | null, ticks: readonly SeenTick[], frame: Frame): PlaneMap[] => {
  const lower = cofactors === null ? null : cholesky(cofactors)
  if (lower === null) return []
  return parameters.flatMap((_, j) => mapOf(parameters.map((v, i) => v + (lower[i]?.[j] ?? 0)), ticks, frame) ?? [])
}

/**
 * Map from photo to the plane of a ruler from its ticks alone: even along its line, each tick on one line of constant x. Gives
 * the line's own perspective, the ticks' vanishing point and the lens's radial term together (six unknowns).
 * @returns null when the ticks do not determine it
 */
export const fitRuler = (seen: readonly SeenTick[], frame: Frame): RulerFit | null => {
  let ticks = seen
  let parameters: readonly number[] = startFrom(ticks, frame)
  let sigma = 0.5
  for (let round = 0; round < ROUNDS; round++) {
    const fit = fitNonlinear(residualsOf(ticks, frame, sigma), parameters, SCALES, 40)
    parameters = fit.parameters
    const all = residualsOf(seen, frame, 1)(parameters)
    const worst = seen.map((_, i) => Math.max(Math.abs(all[2 * i] as number), Math.abs(all[2 * i + 1] as number)))
    const typical = [...worst].sort((p, q) => p - q)[worst.length >> 1] as number
    sigma = Math.max(0.03, (typical / WORSE_OF_TWO) * Math.sqrt(seen.length / Math.max(1, seen.length - SCALES.length / 2)))
    ticks = seen.filter((_, i) => (worst[i] as number) < 3.5 * sigma)
    if (ticks.length < 6) return null
  }
  const last = fitNonlinear(residualsOf(ticks, frame, sigma), parameters, SCALES, 40)
  const map = mapOf(last.parameters, ticks, frame)
  if (map === null || !map.homography.every(Number.isFinite)) return null
  return { map, alternatives: moved(last.parameters, last.cofactors, ticks, frame), rmsPx: sigma, ticks }
}

/** The two ends of a stroke, px. */
type Ends = readonly [Point, Point]

/** A stroke is a tick when its foot is this near to the ruler's line, as a share of a usual tick, and to its place, in steps. */
const OFF_LINE = 0.2
const OFF_PLACE = 0.2
/** A step's map is trusted this share of the fitted ticks' span beyond them. */
const BEYOND = 0.25
const EXTENSIONS = 8

/** The strokes that stand where a ruler with this map has a tick, the best at each place. */
const ticksOf = (fit: RulerFit, strokes: readonly Ends[]): SeenTick[] => {
  const { map, ticks } = fit
  const lengths = tickLengthsOf(fit)
  const usual = median(lengths)
  const longest = longestOf(lengths)
  const [first, last] = [Math.min(...ticks.map((t) => t.index)), Math.max(...ticks.map((t) => t.index))]
  const reach = BEYOND * (last - first)
  const best = new Map<number, { readonly tick: SeenTick; readonly off: number }>()
  for (const [p, q] of strokes) {
    const [a, b] = [toPlane(map, p), toPlane(map, q)]
    const [foot, tip, [x, y], length] = a[1] * usual < b[1] * usual ? [p, q, a, b[1] - a[1]] as const : [q, p, b, a[1] - b[1]] as const
    const index = Math.round(x)
    const off = Math.abs(x - index)
    if (index < first - reach || index > last + reach || off > OFF_PLACE || Math.abs(y) > OFF_LINE * Math.abs(usual)) continue
    if (Math.abs(length) < 0.5 * Math.abs(usual) || Math.abs(length) > 1.3 * longest || off >= (best.get(index)?.off ?? 1)) continue
    const [before, after] = [toPhoto(map, [x - 0.5, y]), toPhoto(map, [x + 0.5, y])]
    best.set(index, { off, tick: { index, foot, tip, stepPx: Math.hypot(after[0] - before[0], after[1] - before[1]) } })
  }
  return [...best.values()].map((b) => b.tick)
}

/**
 * The fit to all of a ruler's ticks, where the one at hand covers a part of it: its map says where the next ones are due, and they tell
 * it farther on.
 * @param strokes that stand parallel to its ticks, ticks among them
 */
export const wholeRuler = (part: RulerFit, strokes: readonly Ends[], frame: Frame): RulerFit => {
  let fit = part
  for (let round = 0; round < EXTENSIONS; round++) {
    const next = fitRuler(ticksOf(fit, strokes), frame)
    if (next === null || next.ticks.length <= fit.ticks.length || next.rmsPx > 1.5 * Math.max(0.3, part.rmsPx)) break
    fit = next
  }
  return fit
}

/** rms departure of a ruler's feet from their places, steps. */
export const unevenness = ({ map, ticks }: RulerFit): number => rms(ticks.map(({ foot, index }) => toPlane(map, foot)[0] - index))
