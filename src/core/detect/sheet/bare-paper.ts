import { toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { codeMm, placeBlocks } from './blocks.ts'
import { impliedDesign } from './implied-design.ts'
import type { PagePlace } from './page-number.ts'
import type { SheetFix } from './sheet-fix.ts'
import { targetMm } from './target-places.ts'
import { type Box, boxAbout, pointerZone, stripZone } from './zone.ts'

/** Round a target and a code nothing is drawn that could be told from print, mm. */
const MARGIN_MM = 1

const codesOf = (fix: SheetFix): readonly Box[] => {
  const pages = fix.pages.map(({ column, row }): PagePlace => ({ rig: fix.rig, paper: fix.paper, column, row }))
  const lengthMm = fix.payload?.lengthMm
  if (fix.rig === 'pointer' && lengthMm === undefined) return impliedDesign(fix)?.codes ?? []
  const zone = fix.rig === 'pointer' ? pointerZone(lengthMm as number) : stripZone(0)
  return pages.flatMap((page) => {
    const { code } = placeBlocks(page, zone, fix.payload?.version)
    return code === null ? [] : [boxAbout(code, codeMm, codeMm)]
  })
}

const within = ({ left, right, top, bottom }: Box, x: number, y: number): boolean =>
  x > left - MARGIN_MM && x < right + MARGIN_MM && y > top - MARGIN_MM && y < bottom + MARGIN_MM

/** Tells whether a pixel shows paper that carries neither a reference target nor the code, so that a dark line there may be ink. */
export const barePaper = (fix: SheetFix): ((px: Point) => boolean) => {
  const codes = codesOf(fix)
  const reach = targetMm.outer + MARGIN_MM
  return (px) => {
    const [x, y] = toPlane(fix.map, px)
    return !fix.targets.some(({ mm }) => Math.hypot(mm[0] - x, mm[1] - y) < reach) && !codes.some((box) => within(box, x, y))
  }
}
