import { workspace } from '#core/detect/kernels/workspace'
import { type Plane, toFullResolution } from '#core/detect/plane'
import type { Point } from '#core/detect/raster'
import type { Segment } from './straight-pieces.ts'

/** Something thin and straight that may be a pen mark; px of the full-resolution upright photo. */
export interface Candidate {
  readonly p0: Point
  readonly p1: Point
  readonly middle: Point
  /** Unit vector from p0 to p1. */
  readonly along: Point
  readonly lengthPx: number
  /** Area of the dip over its depth. */
  readonly widthPx: number
  /** ln(brightness of the paler… darker flank / middle): how much darker the line is than the darker of its two sides. */
  readonly depth: number
  /** ln(brightness + 12) of the darker of its two sides. */
  readonly beside: number
  /** Difference of its two sides over the depth; above about 1 it is an edge rather than a line. */
  readonly step: number
  /** Share of the unbroken line it was cut from; near 0 for a piece of a long curve. */
  readonly share: number
}

/** Reach of the profile to either side, px of the plane. */
const REACH = 9
const PER_PX = 2

const PROFILE = 2 * REACH * PER_PX + 1

/** Mean brightness (log) across each segment, from −REACH to REACH px. */
const meanProfiles = ({ width, height, data }: Plane, segments: readonly Segment[]): Float64Array[] => {
  const { program, f32, f64, at: [plane, lines, into] } = workspace(4 * data.length, 8 * 5 * segments.length, 8 * PROFILE * segments.length)
  f32.set(data, plane / 4)
  segments.forEach(({ p0, along, length }, i) => f64.set([...p0, ...along, length], lines / 8 + 5 * i))
  program.profiles(plane, width, height, lines, segments.length, REACH, PER_PX, into)
  return segments.map((_, i) => f64.slice(into / 8 + PROFILE * i, into / 8 + PROFILE * (i + 1)))
}

/** Highest value going outward from the middle, until the profile has fallen again by a third of its rise. */
const flank = (profile: Float64Array, middle: number, direction: 1 | -1): readonly [value: number, index: number] => {
  const bottom = profile[middle] as number
  let best = bottom
  let at = middle
  for (let i = middle + direction; i >= 0 && i < profile.length; i += direction) {
    const value = profile[i] as number
    if (value > best) {
      best = value
      at = i
    } else if (value < best - (best - bottom) / 3) break
  }
  return [best, at]
}

/** Null where there is no dip at all. */
const measured = (plane: Plane, segment: Segment, profile: Float64Array): Candidate | null => {
  const origin = REACH * PER_PX
  let middle = origin
  for (let i = origin - 3; i <= origin + 3; i++) if ((profile[i] as number) < (profile[middle] as number)) middle = i
  const [left, from] = flank(profile, middle, -1)
  const [right, to] = flank(profile, middle, 1)
  const bottom = profile[middle] as number
  const depth = Math.min(left, right) - bottom
  if (!(depth > 0)) return null
  let area = 0
  for (let i = from; i <= to; i++) area += Math.max(0, Math.min(left, right) - (profile[i] as number)) / PER_PX
  const { factor } = plane
  return {
    p0: toFullResolution(plane, segment.p0),
    p1: toFullResolution(plane, segment.p1),
    middle: toFullResolution(plane, segment.middle),
    along: segment.along,
    lengthPx: segment.length * factor,
    widthPx: (area / depth) * factor,
    depth,
    beside: Math.min(left, right),
    step: Math.abs(left - right) / depth,
    share: segment.points.length / Math.max(segment.points.length, segment.lineLength),
  }
}

/** Measures segments on the unsmoothed plane; those without any dip are left out. */
export const measureCandidates = (plane: Plane, segments: readonly Segment[]): Candidate[] => {
  const profiles = meanProfiles(plane, segments)
  return segments.flatMap((segment, i) => measured(plane, segment, profiles[i] as Float64Array) ?? [])
}
