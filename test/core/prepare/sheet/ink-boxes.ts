import { PDFDocument, type PDFFont, StandardFonts } from 'pdf-lib'
import { codeMm } from '#core/detect/sheet/blocks'
import type { SheetPage } from '#core/prepare/sheet/layout'
import type { Shape } from '#core/prepare/sheet/shape'
import { targetMm } from '#core/detect/sheet/target-places'
import { type Box, boxAbout, boxesMeet, boxReach } from '#core/detect/sheet/zone'

/** A page and all that is printed on it; of the code its place is enough. */
export interface PrintedPage {
  readonly page: SheetPage
  readonly shapes: readonly Shape[]
}

/** Something printed, as the box its ink fills; things of one group may touch each other unless they are words. */
export interface InkBox {
  readonly what: string
  readonly group: string
  readonly words: boolean
  readonly box: Box
}

/** The printer's own Helvetica, whose widths (Adobe's font metrics, in pdf-lib) the sheet's words are set by. */
export const sheetFont = async (): Promise<PDFFont> => (await PDFDocument.create()).embedFont(StandardFonts.Helvetica)

/** Ascender 0.718 and descender −0.207 of the size: Adobe's metrics of Helvetica. */
const [ASCENDER, DESCENDER] = [0.718, 0.207]
/** A line of words is set smaller where it would come nearer than this to the paper's sides, mm. */
const SIDE_MM = 7

type Words = Extract<Shape, { readonly kind: 'text' }>

const wordsBox = ({ at: [x, y], size, anchor, text }: Words, sheet: Box, font: PDFFont): Box => {
  const nominal = font.widthOfTextAtSize(text, size)
  const part = Math.min(1, (sheet.right - sheet.left - 2 * SIDE_MM) / nominal)
  const left = x - { start: 0, middle: 0.5, end: 1 }[anchor] * nominal * part
  return { left, right: left + nominal * part, top: y - ASCENDER * size * part, bottom: y + DESCENDER * size * part }
}

const shapeBox = (shape: Shape, sheet: Box, font: PDFFont): Box => {
  switch (shape.kind) {
    case 'text':
      return wordsBox(shape, sheet, font)
    case 'rect':
      return { left: shape.x, top: shape.y, right: shape.x + shape.width, bottom: shape.y + shape.height }
    case 'line': {
      const [[x0, y0], [x1, y1]] = [shape.from, shape.to]
      return boxAbout([(x0 + x1) / 2, (y0 + y1) / 2], Math.abs(x1 - x0) + (x0 === x1 ? shape.width : 0), Math.abs(y1 - y0) + (y0 === y1 ? shape.width : 0))
    }
    case 'disc':
    case 'arc':
      return boxAbout(shape.centre, 2 * shape.radius, 2 * shape.radius)
    case 'ring':
      return boxAbout(shape.centre, 2 * shape.outer, 2 * shape.outer)
  }
}

const nameOf = (shape: Shape): string => (shape.kind === 'text' ? `"${shape.text.slice(0, 24)}"` : shape.role)

/** Boxes of all that a page bears but its arcs; targets and the code whole. */
export const inkBoxes = ({ page, shapes }: PrintedPage, font: PDFFont): readonly InkBox[] => {
  const single = shapes.filter(({ role, kind }) => role !== 'target' && role !== 'code' && role !== 'radius-arc' && role !== 'number-ring' && kind !== 'disc')
  const targets = page.targets.map(({ centre, identity }): InkBox => ({ what: `target at ${centre}`, group: `target ${identity} ${centre}`, words: false, box: boxAbout(centre, 2 * targetMm.outer, 2 * targetMm.outer) }))
  const code: readonly InkBox[] = page.code ? [{ what: 'code', group: 'code', words: false, box: boxAbout(page.code, codeMm, codeMm) }] : []
  return [...targets, ...code, ...single.map((shape): InkBox => ({ what: nameOf(shape), group: shape.role, words: shape.kind === 'text', box: shapeBox(shape, page.sheet, font) }))]
}

/** A box with so much more on every side; less of it when negative. */
export const grown = ({ left, right, top, bottom }: Box, by: number): Box => ({ left: left - by, right: right + by, top: top - by, bottom: bottom + by })

/** Pairs of things that come nearer than `gapMm` to each other. */
export const collisions = (inks: readonly InkBox[], gapMm: number): readonly string[] =>
  inks.flatMap((a, n) => {
    const near = grown(a.box, gapMm)
    const others = inks.slice(n + 1).filter((b) => (a.group !== b.group || a.words || b.words) && boxesMeet(near, b.box))
    return others.map(({ what }) => `${a.what} on ${what}`)
  })

const clipped = (box: Box, cell: Box): Box | null => {
  const cut = { left: Math.max(box.left, cell.left), right: Math.min(box.right, cell.right), top: Math.max(box.top, cell.top), bottom: Math.min(box.bottom, cell.bottom) }
  return cut.left < cut.right && cut.top < cut.bottom ? cut : null
}

/** Things that an arc, the number ring among them, runs through; arcs end at the page's cell. */
export const crossedByArcs = ({ page, shapes }: PrintedPage, inks: readonly InkBox[]): readonly string[] => {
  const radii = new Set(shapes.flatMap((shape) => (shape.kind === 'arc' && shape.role !== 'shaft' ? [shape.radius] : [])))
  return inks.flatMap(({ what, box }) => {
    const cut = clipped(box, page.cell)
    if (cut === null) return []
    const [near, far] = boxReach(cut)
    return [...radii].filter((radius) => near < radius && far > radius).map((radius) => `arc of ${radius} mm through ${what}`)
  })
}

/** Things outside of a box. */
export const outside = (inks: readonly InkBox[], { left, right, top, bottom }: Box): readonly string[] =>
  inks
    .filter(({ box }) => box.left < left || box.right > right || box.top < top || box.bottom > bottom)
    .map(({ what, box }) => `${what} at ${box.left.toFixed(1)}…${box.right.toFixed(1)}, ${box.top.toFixed(1)}…${box.bottom.toFixed(1)}`)
