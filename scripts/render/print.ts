import { Resvg } from '@resvg/resvg-js'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import type { Shape } from '#core/prepare/sheet/shape'
import type { Place } from '#core/detect/sheet/page-size'
import type { Mm } from './ink-sheet.ts'

/** What a printer put on the sheet before anybody drew: a fine picture of the share of light it leaves, 1 = bare paper. */
export interface Print {
  readonly pxPerMm: number
  readonly width: number
  readonly height: number
  readonly left: Float32Array
}

const PX_PER_MM = 14

/** Grey of toner or ink on office paper: never quite black. */
const BLACKEST = 0.045

const grey = (tone: number): string => {
  const level = Math.round(255 * tone)
  return `rgb(${level},${level},${level})`
}

const arcPath = (centre: Place, radius: number, fromDeg: number, toDeg: number): string => {
  const count = Math.max(2, Math.ceil((toDeg - fromDeg) / 0.5))
  return Array.from({ length: count + 1 }, (_, i) => {
    const a = ((fromDeg + ((toDeg - fromDeg) * i) / count) * Math.PI) / 180
    return `${i === 0 ? 'M' : 'L'}${(centre[0] + radius * Math.cos(a)).toFixed(4)} ${(centre[1] - radius * Math.sin(a)).toFixed(4)}`
  }).join('')
}

const element = (shape: Shape): string => {
  const tone = grey(shape.tone)
  switch (shape.kind) {
    case 'disc':
      return `<circle cx="${shape.centre[0]}" cy="${shape.centre[1]}" r="${shape.radius}" fill="${tone}"/>`
    case 'ring':
      return `<circle cx="${shape.centre[0]}" cy="${shape.centre[1]}" r="${(shape.inner + shape.outer) / 2}" fill="none" stroke="${tone}" stroke-width="${shape.outer - shape.inner}"/>`
    case 'line':
      return `<path d="M${shape.from.join(' ')}L${shape.to.join(' ')}" stroke="${tone}" stroke-width="${shape.width}"/>`
    case 'arc':
      return `<path d="${arcPath(shape.centre, shape.radius, shape.fromDeg, shape.toDeg)}" fill="none" stroke="${tone}" stroke-width="${shape.width}"/>`
    case 'rect':
      return `<rect x="${shape.x}" y="${shape.y}" width="${shape.width}" height="${shape.height}" fill="${tone}"/>`
    case 'text':
      return `<text x="${shape.at[0]}" y="${shape.at[1]}" font-size="${shape.size}" text-anchor="${shape.anchor}" fill="${tone}" font-family="DejaVu Sans">${escaped(shape.text)}</text>`
  }
}

const escaped = (text: string): string => text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;')

const fontFile = (): string =>
  join(dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')), 'ttf', 'DejaVuSans.ttf')

const linear = (level: number): number => (level <= 0.04045 ? level / 12.92 : ((level + 0.055) / 1.055) ** 2.4)

/** Prints shapes on a sheet of `sizeMm`; `originMm` is the place of their frame's zero on it. */
export const printShapes = (shapes: readonly Shape[], sizeMm: Mm, originMm: Mm): Print => {
  const [w, h] = sizeMm
  const view = `viewBox="${-originMm[0]} ${-originMm[1]} ${w} ${h}"`
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" ${view} width="${w}" height="${h}">${shapes.map(element).join('')}</svg>`
  const image = new Resvg(svg, { fitTo: { mode: 'zoom', value: PX_PER_MM }, background: '#fff', font: { fontFiles: [fontFile()], loadSystemFonts: false } }).render()
  const { pixels, width, height } = image
  const table = Float32Array.from({ length: 256 }, (_, v) => BLACKEST + (1 - BLACKEST) * linear(v / 255))
  const left = Float32Array.from({ length: width * height }, (_, i) => table[pixels[4 * i] ?? 255] ?? 1)
  return { pxPerMm: PX_PER_MM, width, height, left }
}

/** Share of light left at a point of the sheet, bilinear. */
export const printAt = (print: Print, x: number, y: number): number => {
  const u = Math.max(0, Math.min(print.width - 1.001, x * print.pxPerMm - 0.5))
  const v = Math.max(0, Math.min(print.height - 1.001, y * print.pxPerMm - 0.5))
  const [i, j] = [Math.floor(u), Math.floor(v)]
  const [fx, fy] = [u - i, v - j]
  const o = j * print.width + i
  const p = print.left
  const top = (p[o] ?? 1) * (1 - fx) + (p[o + 1] ?? 1) * fx
  const bottom = (p[o + print.width] ?? 1) * (1 - fx) + (p[o + print.width + 1] ?? 1) * fx
  return top * (1 - fy) + bottom * fy
}

/** Calls back with every printed point, mm. */
export const eachPrinted = (print: Print, visit: (x: number, y: number) => void): void => {
  for (let j = 0; j < print.height; j++)
    for (let i = 0; i < print.width; i++) if ((print.left[j * print.width + i] ?? 1) < 0.995) visit((i + 0.5) / print.pxPerMm, (j + 0.5) / print.pxPerMm)
}
