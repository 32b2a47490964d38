import type { Point } from '#core/detect/raster'
import { type Plane, samplePlane, toReduced } from '#core/detect/plane'
import { parabolaTop } from '#core/numeric/parabola-top'

/** What a curve that runs round the centre looks like along a ray from it, going outward: a dark line, or a step to dark or to pale. */
export type CurveKind = 'line' | 'fall' | 'rise'

/** A place on a ray where such a curve may cross it. */
export interface Feature {
  readonly kind: CurveKind
  readonly ray: number
  /** Distance from the centre, px of the photo. */
  readonly radius: number
}

/** Rays in a turn: ray n points at the angle 2π·n/RAYS from x towards y. */
export const RAYS = 720

export const rayAngle = (ray: number): number => (2 * Math.PI * ray) / RAYS

/** Half the distance over which brightness is compared, in samples. */
const HALF = 3
/** A line whose two sides differ by more than this many of its depths is an edge's. */
const MOST_STEP = 1.2
/** In units of what noise gives; and the least change (ln) that counts. */
const LEAST_SNR = 5
const LEAST_CHANGE = 0.012

/** Ink has paper on both sides, in a deep shadow down to this much (ln) below the usual brightness. */
const SHADED = 0.8
/** Share of the marks' ring that is no brighter than its bare paper's usual brightness. */
const BARE = 0.7

const responses = (profile: Float64Array, paper: number): Readonly<Record<CurveKind, Float64Array>> => {
  const line = new Float64Array(profile.length)
  const rise = new Float64Array(profile.length)
  for (let k = HALF; k < profile.length - HALF; k++) {
    const [before, here, after] = [profile[k - HALF] as number, profile[k] as number, profile[k + HALF] as number]
    const depth = Math.min(before, after) - here
    rise[k] = after - before
    line[k] = Math.abs(after - before) < MOST_STEP * depth && depth + here > paper - SHADED ? depth : 0
  }
  return { line, rise, fall: rise.map((v) => -v) }
}

/** Places of the highest responses within HALF samples to either side, by a parabola through three. */
const peaks = (values: Float64Array, least: number): number[] => {
  const found: number[] = []
  for (let k = HALF + 1; k < values.length - HALF - 1; k++) {
    const v = values[k] as number
    if (!(v > least)) continue
    let highest = true
    for (let j = -HALF; j <= HALF && highest; j++) highest = v > (values[k + j] as number) || j === 0
    if (!highest) continue
    found.push(k + parabolaTop(values[k - 1] as number, v, values[k + 1] as number))
  }
  return found
}

/** What noise alone gives: from the calmer part of the rays (the 30 % point of the normal law's size is 0.3853 spreads), as rims and writing fill much of them. */
const spreadOf = (profiles: readonly Float64Array[]): number => {
  const values = profiles.flatMap((profile, n) => (n % 6 === 0 ? [...responses(profile, 0).rise.filter((_, k) => k % 3 === 0)].map(Math.abs) : []))
  values.sort((a, b) => a - b)
  return (values[Math.floor(0.3 * values.length)] ?? 0) / 0.3853
}

/**
 * Every place at which something that runs round the centre may cross each of the rays.
 * @param plane smoothed logarithms of the photo
 * @param centre px of the photo
 * @param radii between which to look, px of the photo
 * @param ring radii between which the marks are, px of the photo: there the paper is
 */
export const polarFeatures = (plane: Plane, centre: Point, [least, most]: readonly [number, number], ring: readonly [number, number]): readonly (readonly Feature[])[] => {
  const { factor, width, height } = plane
  const [cx, cy] = toReduced(plane, centre)
  const [from, count] = [least / factor, Math.max(4 * HALF, Math.ceil((most - least) / factor))]
  const profiles = Array.from({ length: RAYS }, (_, ray) => {
    const [ux, uy] = [Math.cos(rayAngle(ray)), Math.sin(rayAngle(ray))]
    const inside: number[] = []
    for (let k = 0; k < count; k++) {
      const [x, y] = [cx + (from + k) * ux, cy + (from + k) * uy]
      if (!(x >= 2 && y >= 2 && x < width - 3 && y < height - 3)) break
      inside.push(samplePlane(plane, x, y))
    }
    return Float64Array.from(inside)
  })
  const ringed = profiles.flatMap((p, n) => (n % 4 === 0 ? [...p.slice(Math.max(0, Math.floor(ring[0] / factor - from)), Math.ceil(ring[1] / factor - from))] : [])).sort((a, b) => a - b)
  const paper = ringed[Math.floor(BARE * ringed.length)] ?? 0
  const threshold = Math.max(LEAST_CHANGE, LEAST_SNR * spreadOf(profiles))
  return profiles.map((profile, ray) => {
    const found = responses(profile, paper)
    return (['line', 'fall', 'rise'] as const).flatMap((kind) =>
      peaks(found[kind], kind === 'line' ? threshold / 2 : threshold).map((at): Feature => ({ kind, ray, radius: (from + at) * factor })))
  })
}
