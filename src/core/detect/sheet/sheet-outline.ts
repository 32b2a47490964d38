import { toPhoto } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { cellMm } from './paper.ts'
import { pageMiddle } from './target-places.ts'
import type { SheetFix, SheetPoint } from './sheet-fix.ts'
import { boxAbout } from './zone.ts'

/** Directions in which the ring's outer edge is taken. */
const ROUND = 36

const cellCorners = (fix: SheetFix): SheetPoint[] => {
  const { width, height } = cellMm(fix.rig, fix.paper)
  return fix.pages.flatMap(({ column, row }): SheetPoint[] => {
    const { left, right, top, bottom } = boxAbout(pageMiddle({ rig: fix.rig, paper: fix.paper, column, row }), width, height)
    return [[left, top], [right, top], [right, bottom], [left, bottom]]
  })
}

/** Corners of a plane seen at a slant may lie behind the camera. */
const inFront = ({ map: { inverse: [, , , , , , g, h] } }: SheetFix, [x, y]: SheetPoint): boolean => g * x + h * y + 1 > 0.05

/**
 * Places about everything of a pointer's sheet that marks may be on, whichever of its targets were seen: the pages in view inside
 * their trim, and the ring of marks, which may go on over joined pages without a target in view.
 * @param outerMm outer radius of the ring, or null when it is not known
 * @returns px of the photo
 */
export const sheetPlaces = (fix: SheetFix, outerMm: number | null): Point[] => {
  const ring = outerMm === null ? [] : Array.from({ length: ROUND }, (_, i): SheetPoint => [outerMm * Math.cos((2 * Math.PI * i) / ROUND), outerMm * Math.sin((2 * Math.PI * i) / ROUND)])
  return [...cellCorners(fix), ...ring].filter((place) => inFront(fix, place)).map((place) => toPhoto(fix.map, place))
}
