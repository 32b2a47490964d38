import { PDFDocument, PrintScaling } from 'pdf-lib'
import { fitName } from '#core/detect/sheet/payload'
import { type DrawnPage, drawnPages, type SheetOrder } from './drawn-pages.ts'
import { facesFor, type Faces, drawWords, lettersLacking } from './pdf-words.ts'
import { pointsPerMm, shapeOperators } from './pdf-shapes.ts'

const addPage = (document: PDFDocument, { page, shapes }: DrawnPage, faces: Faces): void => {
  const { left, right, top, bottom } = page.sheet
  const paper = document.addPage([(right - left) * pointsPerMm, (bottom - top) * pointsPerMm])
  paper.pushOperators(...shapeOperators(shapes, page.sheet))
  drawWords(paper, shapes, page.sheet, faces)
}

/** A sheet as a PDF, and the letters of the motor's name that no face has, each once: the sheet has gaps there. */
export interface PrintedSheet {
  readonly pdf: Uint8Array
  readonly notPrinted: string
}

/**
 * The printed sheet: vector only, 1 mm drawn = 1 mm printed, asking the viewer not to scale it. The same
 * order gives the same bytes (no dates inside). `wideFont`: a TrueType file, needed only for names beyond Latin.
 * RangeError when a measure is beyond what a sheet can be made for.
 */
export const printedSheet = async (order: SheetOrder, wideFont: Uint8Array | null = null): Promise<PrintedSheet> => {
  const pages = drawnPages(order)
  const document = await PDFDocument.create({ updateMetadata: false })
  document.setTitle(`Marking sheet ${order.motor}`.trim())
  document.catalog.getOrCreateViewerPreferences().setPrintScaling(PrintScaling.None)
  const faces = await facesFor(document, pages.flatMap(({ shapes }) => shapes), wideFont)
  for (const page of pages) addPage(document, page, faces)
  return { pdf: await document.save(), notPrinted: lettersLacking(faces, fitName(order.motor)) }
}

/** The PDF alone of `printedSheet`. */
export const drawSheet = async (order: SheetOrder, wideFont: Uint8Array | null = null): Promise<Uint8Array> => (await printedSheet(order, wideFont)).pdf
