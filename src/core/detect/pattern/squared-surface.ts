import type { MarksSeen } from '#core/detect/bearing-doubts'
import type { Quad } from '#core/detect/paper/find-quad'
import { choosePaper } from '#core/detect/paper/paper-size'
import { glanceFactor, logPlane, workingFactor } from '#core/detect/plane'
import { type PlaneMap, toPhoto } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Surface } from '#core/detect/surface'
import { findPattern } from './find-pattern.ts'
import type { Anchor } from './follow-pattern.ts'
import { mapOfPattern, otherMaps } from './pattern-map.ts'

/** Sides of the patches that are searched, px at the working reduction: the longer unless a slanting view smears it. */
const PATCHES = [256, 128] as const
/** Share of the places about the marks where the squares must show. */
const LEAST_SHARE = 0.5
/** Squares that fit a usual camera worse than this are oblongs. */
const MOST_MISFIT = 25

/** Could a usual camera see squares so? Ruled oblongs would need another. */
const seenByCamera = (map: PlaneMap, anchors: readonly Anchor[], raster: Raster): boolean => {
  const us = anchors.map((a) => a.counts[0])
  const vs = anchors.map((a) => a.counts[1] as number)
  const [u0, u1, v0, v1] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)]
  const corners = ([[u0, v0], [u1, v0], [u1, v1], [u0, v1]] as const).map((p) => toPhoto(map, p)) as unknown as Quad
  return (choosePaper(corners, raster, [u1 - u0, v1 - v0], true)?.misfit ?? Number.POSITIVE_INFINITY) < MOST_MISFIT
}

/**
 * The surface as the squares or the dots of squared paper tell it: a net of two like periods about the marks, followed over them, gives
 * perspective and lens, where the paper's own sides do not.
 * @param usable whether a place (px) is on the paper and not to be ignored
 * @param closely also look towards the marks' ends, for fine nets, and for those that a slanting view smears: where nothing else tells the
 * perspective; otherwise a glance will do
 * @returns null when no such net shows over most of the marks, or no usual camera could see squares so
 */
export const squaredSurface = (raster: Raster, marks: MarksSeen, surface: Surface, { usable, closely }: { readonly usable: (px: Point) => boolean; readonly closely: boolean }): Surface | null => {
  const plane = logPlane(raster, closely ? workingFactor(raster) : glanceFactor(raster))
  const looks = (closely ? PATCHES : PATCHES.slice(0, 1)).map((size) => ({ plane, size: (size * workingFactor(raster)) / plane.factor }))
  return findPattern(marks, { kind: 'squares', looks, usable, closely }, ({ anchors, share }) => {
    const seen = share < LEAST_SHARE ? null : mapOfPattern(anchors, raster)
    if (seen === null || !seenByCamera(seen.map, anchors, raster)) return null
    const { paperMm: _, ...rest } = surface
    return { ...rest, by: 'squares', map: seen.map, alternatives: otherMaps(anchors, seen, marks.centrePx, raster), loose: false, metric: false, doubts: [] }
  })
}
