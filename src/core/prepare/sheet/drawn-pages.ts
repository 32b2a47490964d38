import { layoutSheet, type SheetDesign, type SheetPage } from './layout.ts'
import { encodePayload, fitName, type SheetPayload } from '#core/detect/sheet/payload'
import { sheetVersion } from '#core/detect/sheet/sheet-version'
import type { Shape } from './shape.ts'
import type { PaperName } from '#core/detect/sheet/page-size'
import { codeShapes } from './code-shapes.ts'
import { pageWords } from './page-words.ts'

/** A sheet to be printed. */
export interface SheetOrder {
  readonly rig: 'pointer' | 'mirror'
  readonly paper: PaperName
  /** Pointer: radius the pen draws at; mirror: wall distance; mm. */
  readonly lengthMm: number
  /** Mirror: length of the strip, mm; by default one page. */
  readonly stripMm?: number
  /** Diameter of the circle to cut out for the shaft, mm; 0 for the cross alone. */
  readonly shaftHoleMm?: number
  readonly motor: string
  readonly stepsPerRev: number | null
  readonly microsteps: number | null
  /** What a ruler said of the 100 mm bar of an earlier print from the same printer. */
  readonly barMm?: number
}

/** A page with everything that is printed on it, sheet mm. */
export interface DrawnPage {
  readonly page: SheetPage
  readonly payload: SheetPayload
  readonly shapes: readonly Shape[]
}

const designOf = ({ rig, paper, lengthMm, stripMm = 250, shaftHoleMm = 8 }: SheetOrder): SheetDesign =>
  rig === 'pointer' ? { rig, paper, lengthMm, shaftHoleMm } : { rig, paper, stripMm }

const payloadOf = (order: SheetOrder, page: number, pages: number): SheetPayload => ({
  version: sheetVersion,
  rig: order.rig,
  paper: order.paper,
  page,
  pages,
  lengthMm: order.lengthMm,
  stepsPerRev: order.stepsPerRev,
  microsteps: order.microsteps,
  barMm: order.barMm ?? 100,
  motor: fitName(order.motor),
})

/** All pages of a sheet, drawn; RangeError when a measure is beyond what a sheet can be made for. */
export const drawnPages = (order: SheetOrder): readonly DrawnPage[] => {
  const { pages } = layoutSheet(designOf(order))
  return pages.map((page, index) => {
    const payload = payloadOf(order, index, pages.length)
    const code = page.code ? codeShapes(encodePayload(payload), page.code) : []
    return { page, payload, shapes: [...page.shapes, ...code, ...pageWords(page, payload)] }
  })
}
