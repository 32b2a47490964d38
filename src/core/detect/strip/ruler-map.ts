import { cholesky, choleskyInverse } from '#core/numeric/cholesky'
import { fitLine } from '#core/numeric/fit-line'
import { composeHomographies, type Homography } from '#core/numeric/homography'
import { lensSlope, type PlaneMap, planeMap, radialAbout, straighten } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { rms } from '#core/numeric/moments'
import { fitSlope } from '#core/numeric/fit-slope'
import { type LeastSquaresProblem, levenbergMarquardt } from '#core/numeric/levenberg-marquardt'

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
  /** Departure of the vanishing line and the lens from what was known beforehand, in standard uncertainties. */
  readonly off: number
  /** rms sideways departure of the ticks' ends, px. */
  readonly rmsPx: number
  /** The ticks that fit. */
  readonly ticks: readonly SeenTick[]
}

/** Radial distortion of usual lenses at the picture's corner, and how far a usual photo is tilted: only to hold what ticks leave open. */
const USUAL_K = 0.03
const USUAL_TILT = 0.4
const ROUNDS = 4
/** Median of the larger of two normal departures, in standard deviations: erf(x/√2)² = ½. */
const WORSE_OF_TWO = 1.0518
const UNKNOWNS = 6
const LIMITS = { iterations: 80, tolerance: 1e-12 }

/** The photo's size, px. */
export interface Frame {
  readonly width: number
  readonly height: number
}

/** What is known beforehand of the plane's vanishing line and of the lens: g, h and k as they are used here, and what turns departures from them into independent ones of variance 1, column by column. */
export interface Known {
  readonly at: readonly [g: number, h: number, k: number]
  readonly weights: readonly (readonly number[])[]
}

const USUAL: Known = { at: [0, 0, 0], weights: [[1 / USUAL_TILT, 0, 0], [0, 1 / USUAL_TILT, 0], [0, 0, 1 / USUAL_K]] }

/** Least standard uncertainty of what a surface tells. */
const LEAST_TILT = 1e-4

const horizonOf = ({ homography: [, , , , , , a, b, c], radial }: PlaneMap, { width, height }: Frame): Known['at'] => {
  const [size, middle] = [Math.hypot(width, height) / 2, (a * (width - 1) + b * (height - 1)) / 2 + c]
  return [(size * a) / middle, (size * b) / middle, radial?.k ?? 0]
}

/** What a surface's map and its alternatives say of the vanishing line and the lens; null when they say nothing. */
export const knownBy = (map: PlaneMap, alternatives: readonly PlaneMap[], frame: Frame): Known | null => {
  const at = horizonOf(map, frame)
  const off = alternatives.map((other) => horizonOf(other, frame).map((v, i) => v - (at[i] as number)))
  const covariance = at.map((_, i) => at.map((__, j) => off.reduce((sum, d) => sum + (d[i] as number) * (d[j] as number), i === j ? LEAST_TILT ** 2 : 0)))
  const lower = cholesky(covariance)
  const weights = lower === null ? null : cholesky(choleskyInverse(lower))
  return weights === null ? null : { at, weights }
}

/** Departures from what is known. */
const departures = ({ at, weights }: Known, found: Known['at']): number[] => at.map((_, j) => found.reduce((sum, v, i) => sum + (weights[i]?.[j] as number) * (v - (at[i] as number)), 0))

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

/** Sideways departures of all ends, in standard deviations, and of the lens and the tilt from what is known; with how they change with a, b, c, g, h and k. */
const problemOf = (ticks: readonly SeenTick[], frame: Frame, sigmaPx: number, known: Known): LeastSquaresProblem => {
  // Straightening costs most, and is wanted twice for each lens tried.
  let straight: { readonly k: number; readonly ends: readonly Point[] } = { k: Number.NaN, ends: [] }
  const endsAt = (k: number): readonly Point[] => {
    if (straight.k !== k) straight = { k, ends: ticks.flatMap((t) => [t.foot, t.tip]).map(idealPlace(frame, k)) }
    return straight.ends
  }
  const scales = ticks.flatMap(({ stepPx }) => [stepPx / sigmaPx, stepPx / sigmaPx])
  return {
    residuals: ([a = 0, b = 0, c = 0, g = 0, h = 0, k = 0]) => {
      const ends = endsAt(k)
      const left = new Float64Array(ends.length + known.at.length)
      ends.forEach(([x, y], i) => {
        left[i] = ((a * x + b * y + c) / (g * x + h * y + 1) - (ticks[i >> 1] as SeenTick).index) * (scales[i] as number)
      })
      left.set(departures(known, [g, h, k]), ends.length)
      return left
    },
    jacobian: ([a = 0, b = 0, c = 0, g = 0, h = 0, k = 0]) => {
      const ends = endsAt(k)
      const columns = Array.from({ length: UNKNOWNS }, () => new Float64Array(ends.length + known.at.length))
      ends.forEach(([x, y], i) => {
        const share = 1 / (g * x + h * y + 1)
        const along = (a * x + b * y + c) * share
        const bent = lensSlope(k, x * x + y * y)
        const slopes = [x, y, 1, -along * x, -along * y, bent * ((a - along * g) * x + (b - along * h) * y)]
        slopes.forEach((slope, j) => {
          ;(columns[j] as Float64Array)[i] = slope * share * (scales[i] as number)
        })
      })
      known.weights.forEach((row, i) => columns[3 + i]?.set(row, ends.length))
      return columns
    },
  }
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
 * @param known of the vanishing line and the lens, from elsewhere in the photo
 * @returns null when the ticks do not determine it
 */
export const fitRuler = (seen: readonly SeenTick[], frame: Frame, known: Known = USUAL): RulerFit | null => {
  let ticks = seen
  let parameters: readonly number[] = startFrom(ticks, frame)
  let sigma = 0.5
  for (let round = 0; round < ROUNDS; round++) {
    parameters = levenbergMarquardt(problemOf(ticks, frame, sigma, known), parameters, LIMITS).parameters
    const all = problemOf(seen, frame, 1, known).residuals(parameters)
    const worst = seen.map((_, i) => Math.max(Math.abs(all[2 * i] as number), Math.abs(all[2 * i + 1] as number)))
    const typical = [...worst].sort((p, q) => p - q)[worst.length >> 1] as number
    sigma = Math.max(0.03, (typical / WORSE_OF_TWO) * Math.sqrt(seen.length / Math.max(1, seen.length - UNKNOWNS / 2)))
    ticks = seen.filter((_, i) => (worst[i] as number) < 3.5 * sigma)
    if (ticks.length < 6) return null
  }
  const last = levenbergMarquardt(problemOf(ticks, frame, sigma, known), parameters, LIMITS)
  const map = mapOf(last.parameters, ticks, frame)
  if (map === null || !map.homography.every(Number.isFinite)) return null
  return { map, off: rms(departures(known, horizonOf(map, frame))), alternatives: moved(last.parameters, last.inverseNormal, ticks, frame), rmsPx: sigma, ticks }
}
