import type { MarksSeen } from '#core/detect/bearing-doubts'
import { boxSums, doubled, logOf, type Plane, smoothPlane, workingFactor } from '#core/detect/plane'
import type { Point, Raster } from '#core/detect/raster'
import type { Surface } from '#core/detect/surface'
import { lensWords } from '#core/detect/lens'
import { findPattern } from './find-pattern.ts'
import { mapOfPattern, otherMaps } from './pattern-map.ts'
import { cosTiltOf } from './see-rules.ts'

/** Rules are wide apart: they are looked for in a plane no longer than this, in patches that show at least four; px. */
const LONGEST = 800
const PATCH = 128
/** What is about a place reaches so far (px of that plane, a standard deviation), and by how much brighter than that it may count, ln. */
const ABOUT = 3
const BRIGHTER = 0.004
/** Noise follows any lines for a while: rules agree better, and lie nearer to where they should, in periods (seen on rendered photos of plain and ruled paper; no source). */
const LEAST_AGREE = 0.7
const MOST_SCATTER = 0.06
/** Nobody photographs marks aslant by more than 50°; what seems to be seen so is a fan of lines. */
const LEAST_COS = Math.cos((50 * Math.PI) / 180)

const toldByRules = (raster: Raster): string => `the perspective was told from the rules on the paper and ${lensWords(raster)}: keep all four corners of the paper in view, or give them with --corners`

/** How much darker than what is about it each place of the reduced picture is: edges of shadows, and shading, fall away. */
const darkerThanAbout = (raster: Raster): Plane => {
  let sums = boxSums(raster, workingFactor(raster))
  while (Math.max(sums.width, sums.height) > LONGEST) sums = doubled(sums)
  const plane = logOf(sums)
  const about = smoothPlane(plane, ABOUT).data
  return { ...plane, data: plane.data.map((v, i) => Math.min(BRIGHTER, v - (about[i] as number))) }
}

/**
 * The surface as the rules of lined paper tell it: evenly spaced parallel lines fix the image of the line at infinity, and with the
 * photo's own or a usual lens the slant, where the paper's own sides do not.
 * @param usable whether a place (px) is on the paper and not to be ignored
 * @returns null when no rules show over most of the marks
 */
export const ruledSurface = (raster: Raster, marks: MarksSeen, surface: Surface, usable: (px: Point) => boolean): Surface | null => {
  const looks = [{ plane: darkerThanAbout(raster), size: PATCH }]
  return findPattern(marks, { kind: 'rules', looks, usable, closely: true }, ({ anchors, agree }) => {
    const seen = agree < LEAST_AGREE ? null : mapOfPattern(anchors, raster)
    if (seen === null || seen.scatter > MOST_SCATTER || cosTiltOf(seen.map.homography, raster) < LEAST_COS) return null
    const { paperMm: _, ...rest } = surface
    return { ...rest, by: 'rules', map: seen.map, alternatives: otherMaps(anchors, seen, marks.centrePx, raster), loose: true, metric: false, doubts: [toldByRules(raster)] }
  })
}
