import { outlineAbout } from '#core/detect/paper/outline'
import { toPhoto } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { bareSurface, type Surface } from '#core/detect/surface'
import { impliedDesign } from './implied-design.ts'
import type { SheetFix } from './sheet-fix.ts'
import { cellMm, type Place } from './page-size.ts'
import { pageMiddle } from './target-places.ts'
import { boxAbout, pointerZone } from './zone.ts'

/** Directions in which the ring's outer edge is taken. */
const ROUND = 36

const cellCorners = (fix: SheetFix): Place[] => {
  const { width, height } = cellMm(fix.rig, fix.paper)
  return fix.pages.flatMap(({ column, row }): Place[] => {
    const { left, right, top, bottom } = boxAbout(pageMiddle({ rig: fix.rig, paper: fix.paper, column, row }), width, height)
    return [[left, top], [right, top], [right, bottom], [left, bottom]]
  })
}

/** Corners of a plane seen at a slant may lie behind the camera. */
const inFront = ({ map: { inverse: [, , , , , , g, h] } }: SheetFix, [x, y]: Place): boolean => g * x + h * y + 1 > 0.05

/**
 * Places about everything of a pointer's sheet that marks may be on, whichever of its targets were seen: the pages in view inside
 * their trim, and the ring of marks, which may go on over joined pages without a target in view.
 * @param outerMm outer radius of the ring, or null when it is not known
 * @returns px of the photo
 */
const sheetPlaces = (fix: SheetFix, outerMm: number | null): Point[] => {
  const ring = outerMm === null ? [] : Array.from({ length: ROUND }, (_, i): Place => [outerMm * Math.cos((2 * Math.PI * i) / ROUND), outerMm * Math.sin((2 * Math.PI * i) / ROUND)])
  return [...cellCorners(fix), ...ring].filter((place) => inFront(fix, place)).map((place) => toPhoto(fix.map, place))
}

/** A strip's outermost marks may stand a little beyond its outermost targets. */
const BEYOND_TARGETS = 1.3

const widened = (outline: readonly Point[] | null, share: number): readonly Point[] | null => {
  if (outline === null) return null
  const cx = outline.reduce((sum, p) => sum + p[0], 0) / outline.length
  const cy = outline.reduce((sum, p) => sum + p[1], 0) / outline.length
  return outline.map(([x, y]): Point => [cx + share * (x - cx), cy + share * (y - cy)])
}

/** Where marks may be on a printed sheet. */
const outlineOf = (fix: SheetFix, ringMm: Surface['ringMm']): readonly Point[] | null => {
  const targets = fix.targets.map((t) => t.px)
  if (fix.rig === 'mirror') return widened(outlineAbout(targets), BEYOND_TARGETS)
  return outlineAbout([...targets, ...sheetPlaces(fix, ringMm === null ? null : ringMm[1])])
}

/** Marks start up to 28 mm inside the tip and end before the numbers' ring; 1 mm for the hand. Without the code, by the targets. */
const ringOf = (fix: SheetFix): Surface['ringMm'] => {
  const { rig, payload } = fix
  if (rig !== 'pointer') return null
  if (payload === null) return impliedDesign(fix)?.ringMm ?? null
  const zone = pointerZone(payload.lengthMm)
  return zone.kind === 'ring' ? [zone.inner - 1, zone.numberRing + 1] : null
}

/** The printed sheet itself as the surface, in its own millimetres. */
export const sheetSurface = (fix: SheetFix): Surface => {
  const ringMm = ringOf(fix)
  return { ...bareSurface, by: 'sheet', map: fix.map, outline: outlineOf(fix, ringMm), metric: true, sheet: fix, ringMm }
}
