import { printedSheet } from '#core/prepare/sheet/draw-sheet'
import type { SheetOrder } from '#core/prepare/sheet/drawn-pages'

const wideFont = async (): Promise<Uint8Array> => {
  const answer = await fetch('./wide-font.ttf')
  if (!answer.ok) throw new Error('the letters of the name could not be fetched: try again, or give a name in Latin letters')
  return new Uint8Array(await answer.arrayBuffer())
}

/** The sheet drawn in the browser; kept apart, since what draws a PDF weighs more than the rest of the page. */
export const sheetHere = async (order: SheetOrder): Promise<{ readonly pdf: Blob; readonly notPrinted: string }> => {
  const plain = await printedSheet(order)
  const { pdf, notPrinted } = plain.notPrinted === '' ? plain : await printedSheet(order, await wideFont())
  return { pdf: new Blob([new Uint8Array(pdf)], { type: 'application/pdf' }), notPrinted }
}
