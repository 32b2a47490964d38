import type { MarksSeen } from '#core/detect/marks-seen'
import type { Quad } from '#core/detect/paper/find-quad'
import { choosePaper } from '#core/detect/paper/paper-size'
import { glanceFactor, logPlane, type Plane, toFullResolution, toReduced, workingFactor } from '#core/detect/plane'
import { type PlaneMap, planeMap, type Radial, radialAbout, straighten, toPhoto } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Surface } from '#core/detect/surface'
import { RADIAL_SPREAD } from '#core/detect/usual-camera'
import { applyHomography, fitHomography } from '#core/numeric/homography'
import { findPeriods, type Periods } from './find-periods.ts'
import { type Anchor, followSquares } from './follow-squares.ts'

/** Sides of the patches that are searched, px at the working reduction: the longer unless a slanting view smears it. */
const PATCHES = [256, 128] as const
/** Patches, and pairs of periods in all, that are tried of each size; and at a glance. */
const TRIES = 6
const GLANCES = 3
/** Share of the places about the marks where the squares must show. */
const LEAST_SHARE = 0.5
const LEAST_ANCHORS = 24
/** Beyond the marks' outer ends the squares are followed this far, as a share of their radius. */
const BEYOND = 1.1
/** How far printed squares are from square, in ratio of their sides and in angle (common practice, no source). */
const UNTRUE = 0.001
/** Squares that fit a usual camera worse than this are oblongs. */
const MOST_MISFIT = 25
/** Parts that are left out in turn to see how sure the map is (jackknife by blocks). */
const PARTS = 8

/** The pattern is looked for at the shaft and round it, at these shares of the way to the marks' ends; at a glance at three places. */
const SEEDS = [0.5, 0.9]
const GLANCED: readonly number[] = [0, 1, 3]
const seedsOf = ([cx, cy]: Point, radius: number, shares: readonly number[]): Point[] => [[cx, cy], ...shares.flatMap((share) => [0, 1, 2, 3].map((i): Point => [cx + share * radius * Math.cos((Math.PI * i) / 2 + share), cy + share * radius * Math.sin((Math.PI * i) / 2 + share)]))]

interface Seed {
  readonly place: Point
  readonly periods: Periods
  readonly limit: number
}

const clearestSeeds = (plane: Plane, places: readonly Point[], size: number, tries: number): Seed[] =>
  places
    .flatMap((place) => {
      const patch = findPeriods(plane, place, size)
      return (patch?.pairs ?? []).map((periods): Seed => ({ place, periods, limit: patch?.limit ?? 0 }))
    })
    .sort((p, q) => q.periods.worth - p.periods.worth)
    .slice(0, tries)

const mapThrough = (anchors: readonly Anchor[], radial: Radial): PlaneMap | null => {
  const homography = fitHomography(anchors.map((a) => straighten(radial, a.px)), anchors.map((a) => a.square))
  return homography === null ? null : planeMap(homography, radial)
}

const squaresOff = ({ homography, radial }: PlaneMap, anchors: readonly Anchor[]): number =>
  anchors.reduce((sum, { px, square: [u, v] }) => {
    const [a, b] = applyHomography(homography, straighten(radial, px))
    return sum + (a - u) ** 2 + (b - v) ** 2
  }, 0)

/** The lens's bend that fits the anchors best, usual lenses being likelier, with its standard uncertainty. */
const lensOf = (anchors: readonly Anchor[], { width, height }: Raster): { readonly k: number; readonly u: number } => {
  const step = RADIAL_SPREAD
  const sums = [-step, 0, step].map((k) => {
    const map = mapThrough(anchors, radialAbout(width, height, k))
    return map === null ? Number.NaN : squaresOff(map, anchors)
  }) as [number, number, number]
  const variance = sums[1] / Math.max(1, 2 * anchors.length - 9)
  const slope = (sums[2] - sums[0]) / (2 * step) / variance
  const bow = (sums[2] - 2 * sums[1] + sums[0]) / step ** 2 / variance + 2 / RADIAL_SPREAD ** 2
  return bow > 0 ? { k: Math.max(-3 * RADIAL_SPREAD, Math.min(3 * RADIAL_SPREAD, -slope / bow)), u: Math.min(RADIAL_SPREAD, Math.sqrt(2 / bow)) } : { k: 0, u: RADIAL_SPREAD }
}

/** The map without each of eight sectors in turn, with another lens, and with squares that are not quite square. */
const othersOf = (anchors: readonly Anchor[], map: PlaneMap, { k, u }: { readonly k: number; readonly u: number }, [cx, cy]: Point, { width, height }: Raster): PlaneMap[] => {
  const partOf = ({ px: [x, y] }: Anchor): number => Math.floor(((Math.atan2(y - cy, x - cx) / (2 * Math.PI) + 1) % 1) * PARTS)
  const without = Array.from({ length: PARTS }, (_, part) => mapThrough(anchors.filter((a) => partOf(a) !== part), map.radial as Radial))
  const lens = mapThrough(anchors, radialAbout(width, height, k + u))
  const [a, b, c, d, e, f, g, h, i] = map.homography
  const untrue = [planeMap([a * (1 + UNTRUE), b * (1 + UNTRUE), c * (1 + UNTRUE), d, e, f, g, h, i], map.radial), planeMap([a + UNTRUE * d, b + UNTRUE * e, c + UNTRUE * f, d, e, f, g, h, i], map.radial)]
  return [...without, lens, ...untrue].flatMap((m) => (m === null ? [] : [m]))
}

/** Could a usual camera see squares so? Ruled oblongs would need another. */
const seenByCamera = (map: PlaneMap, anchors: readonly Anchor[], { width, height }: Raster): boolean => {
  const us = anchors.map((a) => a.square[0])
  const vs = anchors.map((a) => a.square[1])
  const [u0, u1, v0, v1] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)]
  const corners = ([[u0, v0], [u1, v0], [u1, v1], [u0, v1]] as const).map((p) => toPhoto(map, p)) as unknown as Quad
  return (choosePaper(corners, [width, height], [u1 - u0, v1 - v0], true)?.misfit ?? Number.POSITIVE_INFINITY) < MOST_MISFIT
}

/**
 * The surface as the squares or the dots of squared paper tell it: a net of two like periods about the marks, followed over them, gives
 * perspective and lens, where the paper's own sides do not.
 * @param usable whether a place (px) is on the paper and not to be ignored
 * @param closely also look towards the marks' ends, for fine nets, and for those that a slanting view smears: where nothing else tells the
 * perspective; otherwise a glance will do
 * @returns null when no such net shows over most of the marks, or no usual camera could see squares so
 */
export const squaredSurface = (raster: Raster, { centrePx, strokes }: MarksSeen, surface: Surface, { usable, closely }: { readonly usable: (px: Point) => boolean; readonly closely: boolean }): Surface | null => {
  const plane = logPlane(raster, closely ? workingFactor(raster) : glanceFactor(raster))
  const middle = toReduced(plane, centrePx)
  const radius = (BEYOND * Math.max(...strokes.flatMap(({ p0, p1 }) => [p0, p1].map((p) => Math.hypot(p[0] - centrePx[0], p[1] - centrePx[1]))))) / plane.factor
  const places = seedsOf(middle, radius, SEEDS).filter((_, i) => closely || GLANCED.includes(i)).filter((p) => usable(toFullResolution(plane, p)))
  for (const { place, periods, limit } of (closely ? PATCHES : PATCHES.slice(0, 1)).flatMap((size) => clearestSeeds(plane, places, (size * workingFactor(raster)) / plane.factor, closely ? TRIES : GLANCES))) {
    const followed = followSquares({ plane, limit, usable }, periods, place, { middle, radius })
    if (followed === null || followed.share < LEAST_SHARE || followed.anchors.length < LEAST_ANCHORS) continue
    const anchors = followed.anchors.map(({ px, square }): Anchor => ({ px: toFullResolution(plane, px), square }))
    const lens = lensOf(anchors, raster)
    const map = mapThrough(anchors, radialAbout(raster.width, raster.height, lens.k))
    if (map === null || !seenByCamera(map, anchors, raster)) continue
    const { paperMm: _, ...rest } = surface
    return { ...rest, by: 'squares', map, alternatives: othersOf(anchors, map, lens, centrePx, raster), loose: false, metric: false, doubts: [] }
  }
  return null
}
