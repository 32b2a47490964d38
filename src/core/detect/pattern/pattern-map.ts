import { type PlaneMap, planeMap, radialAbout, straighten, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { lensOf, RADIAL_SPREAD } from '#core/detect/lens'
import { type Anchor, fitPattern } from './follow-pattern.ts'
import { seeRules } from './see-rules.ts'

/** How far printed squares are from square, in ratio of their sides and in angle (common practice, no source). */
const UNTRUE = 0.001
/** Parts that are left out in turn to see how sure the map is (jackknife by blocks). */
const PARTS = 8

const areRules = (anchors: readonly Anchor[]): boolean => anchors[0]?.counts[1] === undefined

/** A lens's bend, as of Radial, and its standard uncertainty. */
export interface Bend {
  readonly k: number
  readonly u: number
}

/**
 * The map that takes anchors (px of the photo) to where they lie in the pattern, in squares or in rules.
 * @param k the lens's bend
 * @param lnFocal ln of the focal length over what the photo tells, or over the usual one; rules alone do not tell the plane without it, squares do
 * @returns null when the anchors tell no perspective
 */
const mapThrough = (anchors: readonly Anchor[], raster: Raster, k: number, lnFocal = 0): PlaneMap | null => {
  const radial = radialAbout(raster.width, raster.height, k)
  const homography = fitPattern(anchors.map((a) => straighten(radial, a.px)), anchors.map((a) => a.counts))
  if (homography === null) return null
  return planeMap(areRules(anchors) ? seeRules(homography, raster, lnFocal) : homography, radial)
}

const squaresOff = (map: PlaneMap, anchors: readonly Anchor[]): number =>
  anchors.reduce((sum, { px, counts: [along, across] }) => {
    const [u, v] = toPlane(map, px)
    return sum + (u - along) ** 2 + (across === undefined ? 0 : (v - across) ** 2)
  }, 0)

/** The lens's bend that fits the anchors best, usual lenses being likelier. */
const bendOf = (anchors: readonly Anchor[], raster: Raster): Bend => {
  const step = RADIAL_SPREAD
  const sums = [-step, 0, step].map((k) => {
    const map = mapThrough(anchors, raster, k)
    return map === null ? Number.NaN : squaresOff(map, anchors)
  }) as [number, number, number]
  const variance = sums[1] / Math.max(1, areRules(anchors) ? anchors.length - 6 : 2 * anchors.length - 9)
  const slope = (sums[2] - sums[0]) / (2 * step) / variance
  const bow = (sums[2] - 2 * sums[1] + sums[0]) / step ** 2 / variance + 2 / RADIAL_SPREAD ** 2
  return bow > 0 ? { k: Math.max(-3 * RADIAL_SPREAD, Math.min(3 * RADIAL_SPREAD, -slope / bow)), u: Math.min(RADIAL_SPREAD, Math.sqrt(2 / bow)) } : { k: 0, u: RADIAL_SPREAD }
}

/** What a pattern tells of the photo. */
export interface PatternMap {
  readonly map: PlaneMap
  readonly bend: Bend
  /** Rms distance of the anchors from where the map has them, in periods. */
  readonly scatter: number
}

/** @returns null when the anchors (px of the photo) tell no perspective */
export const mapOfPattern = (anchors: readonly Anchor[], raster: Raster): PatternMap | null => {
  const bend = bendOf(anchors, raster)
  const map = mapThrough(anchors, raster, bend.k)
  return map === null ? null : { map, bend, scatter: Math.sqrt(squaresOff(map, anchors) / anchors.length) }
}

/** The map without each of eight sectors in turn, with another lens, and with squares that are not quite square or, of rules, a longer lens. */
export const otherMaps = (anchors: readonly Anchor[], { map, bend: { k, u } }: PatternMap, [cx, cy]: Point, raster: Raster): PlaneMap[] => {
  const partOf = ({ px: [x, y] }: Anchor): number => Math.floor(((Math.atan2(y - cy, x - cx) / (2 * Math.PI) + 1) % 1) * PARTS)
  const without = Array.from({ length: PARTS }, (_, part) => mapThrough(anchors.filter((a) => partOf(a) !== part), raster, k))
  const [a, b, c, d, e, f, g, h, i] = map.homography
  const untrue = areRules(anchors)
    ? [mapThrough(anchors, raster, k, lensOf(raster).spread)]
    : [planeMap([a * (1 + UNTRUE), b * (1 + UNTRUE), c * (1 + UNTRUE), d, e, f, g, h, i], map.radial), planeMap([a + UNTRUE * d, b + UNTRUE * e, c + UNTRUE * f, d, e, f, g, h, i], map.radial)]
  return [...without, mapThrough(anchors, raster, k + u), ...untrue].flatMap((m) => (m === null ? [] : [m]))
}
