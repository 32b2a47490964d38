import fontkit from '@pdf-lib/fontkit'
import { type PDFDocument, type PDFFont, type PDFPage, grayscale, StandardFonts } from 'pdf-lib'
import type { Shape } from './shape.ts'
import type { Box } from '#core/detect/sheet/zone'
import { onPage, pointsPerMm } from './pdf-shapes.ts'

type Words = Extract<Shape, { readonly kind: 'text' }>

/** A face and the letters it has. */
interface Face {
  readonly font: PDFFont
  readonly letters: ReadonlySet<number>
}

/** Faces of a document: the printer's own Helvetica, and a wider one that is embedded only when a line needs it. */
export interface Faces {
  readonly plain: Face
  readonly wide: Face | null
}

const faceOf = (font: PDFFont): Face => ({ font, letters: new Set(font.getCharacterSet()) })

const lettersOf = (text: string): readonly number[] => Array.from(text, (letter) => letter.codePointAt(0) ?? 0)

const covers = ({ letters }: Face, text: string): boolean => lettersOf(text).every((letter) => letters.has(letter))

const wordsIn = (shapes: readonly Shape[]): readonly Words[] => shapes.filter((shape) => shape.kind === 'text')

/** Faces for these shapes. `wideFont`: a TrueType file for letters that Helvetica lacks; a subset of it is embedded. */
export const facesFor = async (document: PDFDocument, shapes: readonly Shape[], wideFont: Uint8Array | null): Promise<Faces> => {
  const plain = faceOf(await document.embedFont(StandardFonts.Helvetica))
  if (!wideFont || wordsIn(shapes).every(({ text }) => covers(plain, text))) return { plain, wide: null }
  document.registerFontkit(fontkit)
  return { plain, wide: faceOf(await document.embedFont(wideFont, { subset: true })) }
}

const faceFor = ({ plain, wide }: Faces, text: string): Face => (wide && !covers(plain, text) ? wide : plain)

const hasLetter = ({ letters }: Face, letter: string): boolean => letters.has(letter.codePointAt(0) ?? 0)

/** A gap to write in by hand, as long as that of a name nobody gave, where one or more letters cannot be drawn. */
const fitted = (face: Face, text: string): string =>
  Array.from(text, (letter) => (hasLetter(face, letter) ? letter : '\0')).join('').replace(/\0+/g, '________')

/** Letters of a line that these faces cannot print, each once, in their order; empty when all of it is printed. */
export const lettersLacking = (faces: Faces, text: string): string => {
  const face = faceFor(faces, text)
  return [...new Set(text)].filter((letter) => !hasLetter(face, letter)).join('')
}

const shares = { start: 0, middle: 0.5, end: 1 } as const

/** Draws the words of a page. Letters that no face has are left as a gap; a line never runs off the paper. */
export const drawWords = (page: PDFPage, shapes: readonly Shape[], sheet: Box, faces: Faces): void => {
  const place = onPage(sheet)
  const room = page.getWidth() - 2 * 7 * pointsPerMm
  for (const words of wordsIn(shapes)) {
    const face = faceFor(faces, words.text)
    const text = fitted(face, words.text)
    const nominal = words.size * pointsPerMm
    const size = nominal * Math.min(1, room / face.font.widthOfTextAtSize(text, nominal))
    const [x, y] = place(words.at)
    const start = x - shares[words.anchor] * face.font.widthOfTextAtSize(text, size)
    page.drawText(text, { x: start, y, size, font: face.font, color: grayscale(words.tone) })
  }
}
