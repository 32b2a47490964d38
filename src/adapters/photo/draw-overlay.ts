import { createRequire } from 'node:module'
import { Resvg } from '@resvg/resvg-js'
import type { Detection } from '#core/detect/detection'
import { overlaySvg } from '#core/report/overlay-svg'
import { sharp } from './sharp.ts'

/** Longest side of the picture that is written, px. */
const LONGEST = 2600
/** How much of the photo's contrast is kept under the drawing. */
const KEPT = 0.55

const fontFile = (): string => createRequire(import.meta.url).resolve('dejavu-fonts-ttf/ttf/DejaVuSans.ttf')

/** The photo, upright and paled, with what was and was not taken drawn over it, as a PNG. Needs no installed font. */
export const drawOverlay = async (photo: Uint8Array, detection: Detection): Promise<Uint8Array> => {
  const scale = Math.min(1, LONGEST / Math.max(detection.widthPx, detection.heightPx))
  const width = Math.max(1, Math.round(detection.widthPx * scale))
  const drawing = new Resvg(overlaySvg(detection), {
    fitTo: { mode: 'width', value: width },
    font: { fontFiles: [fontFile()], loadSystemFonts: false, defaultFontFamily: 'DejaVu Sans' },
  }).render()
  const top = await sharp(drawing.asPng()).resize(width, drawing.height, { fit: 'fill' }).toBuffer()
  // The photo is paled first: in one pipeline the drawing would be paled with it.
  const { data, info } = await sharp(photo, { failOn: 'none' })
    .autoOrient()
    .resize(width, drawing.height, { fit: 'fill' })
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .linear(KEPT, 255 * (1 - KEPT))
    .raw()
    .toBuffer({ resolveWithObject: true })
  return sharp(data, { raw: { width: info.width, height: info.height, channels: info.channels } })
    .composite([{ input: top }])
    .png({ palette: false, compressionLevel: 7 })
    .toBuffer()
}
