import { fitName } from '#core/detect/sheet/payload'
import { drawSheet } from '#core/prepare/sheet/draw-sheet'
import type { SheetOrder } from '#core/prepare/sheet/drawn-pages'
import { lettersNotPrinted } from '#core/prepare/sheet/pdf-words'

const wideFont = async (): Promise<Uint8Array> => {
  const answer = await fetch('./wide-font.ttf')
  if (!answer.ok) throw new Error('the letters of the name could not be fetched: try again, or give a name in Latin letters')
  return new Uint8Array(await answer.arrayBuffer())
}

/** The sheet drawn in the browser; kept apart, since what draws a PDF weighs more than the rest of the page. */
export const sheetHere = async (order: SheetOrder): Promise<{ readonly pdf: Blob; readonly notPrinted: string }> => {
  const name = fitName(order.motor)
  const font = (await lettersNotPrinted(name, null)) === '' ? null : await wideFont()
  return { pdf: new Blob([new Uint8Array(await drawSheet(order, font))], { type: 'application/pdf' }), notPrinted: await lettersNotPrinted(name, font) }
}
