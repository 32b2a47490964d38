import { inflateSync } from 'node:zlib'
import { readFileSync } from 'node:fs'
import { PDFDocument, PDFName, PDFRawStream } from 'pdf-lib'
import { describe, expect, it } from 'vitest'
import { drawSheet, printedSheet } from '#core/prepare/sheet/draw-sheet'
import type { SheetOrder } from '#core/prepare/sheet/drawn-pages'

const order: SheetOrder = { rig: 'pointer', paper: 'a4', lengthMm: 80, motor: 'rail-2', stepsPerRev: 48, microsteps: 4 }

const font = readFileSync('node_modules/dejavu-fonts-ttf/ttf/DejaVuSans.ttf')

/** Operators of every content stream of a PDF, as text. */
const contentOf = async (bytes: Uint8Array): Promise<string> => {
  const document = await PDFDocument.load(bytes, { updateMetadata: false })
  return document.context
    .enumerateIndirectObjects()
    .flatMap(([, object]) => (object instanceof PDFRawStream && !object.dict.has(PDFName.of('Subtype')) && !object.dict.has(PDFName.of('Type')) ? [object] : []))
    .map((stream) => {
      const raw = Buffer.from(stream.getContents())
      return (stream.dict.has(PDFName.of('Filter')) ? inflateSync(raw) : raw).toString('latin1')
    })
    .join('\n')
}

/** Lengths of all straight strokes, mm: 1 pt = 1/72 in = 25.4/72 mm (ISO 32000). */
const strokesMm = (content: string): readonly number[] =>
  [...content.matchAll(/(-?[\d.]+) (-?[\d.]+) m\n(-?[\d.]+) (-?[\d.]+) l\nS/g)].map(([, x0, y0, x1, y1]) =>
    (Math.hypot(Number(x1) - Number(x0), Number(y1) - Number(y0)) * 25.4) / 72,
  )

describe('sheet PDF', () => {
  it('is true to size: page as the paper’s standard has it, bars of 100 mm and 4 in between the middles of their end ticks', async () => {
    const bytes = await drawSheet(order)
    const document = await PDFDocument.load(bytes)
    const { width, height } = document.getPage(0).getSize()
    expect([(width * 25.4) / 72, (height * 25.4) / 72]).toEqual([expect.closeTo(210, 6), expect.closeTo(297, 6)])
    const strokes = strokesMm(await contentOf(bytes))
    // Each bar's line runs half a tick's width (0.15 mm) beyond the middles of its end ticks.
    expect(strokes).toContainEqual(expect.closeTo(100.15, 4))
    expect(strokes).toContainEqual(expect.closeTo(4 * 25.4 + 0.15, 4))
  })

  it('asks the viewer not to scale', async () => {
    const document = await PDFDocument.load(await drawSheet(order))
    expect(document.catalog.getViewerPreferences()?.getPrintScaling()).toBe('None')
  })

  it('has a page per tile', async () => {
    expect((await PDFDocument.load(await drawSheet({ ...order, lengthMm: 150 }))).getPageCount()).toBe(5)
    expect((await PDFDocument.load(await drawSheet({ ...order, rig: 'mirror', lengthMm: 1500, stripMm: 800 }))).getPageCount()).toBe(3)
  })

  it('gives the same bytes for the same order', async () => {
    expect(await drawSheet(order)).toEqual(await drawSheet(order))
  })

  it('prints Greek, Cyrillic, Polish and Vietnamese names whole, and says which letters of another it has not', async () => {
    for (const motor of ['Ρίνα', 'Мотор №2', 'Źrebię łąki', 'Đường ray Việt', 'ışık', 'žluťoučký kůň']) expect((await printedSheet({ ...order, motor }, font)).notPrinted).toBe('')
    expect((await printedSheet({ ...order, motor: '漢字 ąč 漢' }, font)).notPrinted).toBe('漢字')
    expect((await printedSheet({ ...order, motor: 'rail Źą' }, null)).notPrinted).toBe('Źą')
  })

  it('leaves a gap to write in where letters are lacking, never question marks', async () => {
    const content = await contentOf(await drawSheet({ ...order, motor: '漢字 rail' }))
    const hex = (text: string) => Buffer.from(text, 'latin1').toString('hex').toUpperCase()
    expect(content).toContain(hex('Motor: ________ rail'))
    expect(content).not.toContain(hex('?'.repeat(2)))
  })

  it('takes any name', async () => {
    for (const motor of ['Мотор №2', '\u202e\u0000)Tj', '漢字 ąč', '\ud83d', '']) {
      expect((await drawSheet({ ...order, motor }, font)).length).toBeGreaterThan(1000)
      expect((await drawSheet({ ...order, motor })).length).toBeGreaterThan(1000)
    }
  })
})
