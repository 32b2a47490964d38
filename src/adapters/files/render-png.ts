import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { Resvg } from '@resvg/resvg-js'

const fontFolder = join(dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')), 'ttf')
const fontFiles = ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((name) => join(fontFolder, name))

/**
 * A figure as PNG, twice its size in px, with the fonts of a package and none of the system's.
 * @param svg a whole SVG document
 */
export const renderPng = (svg: string): Uint8Array =>
  new Resvg(svg, {
    fitTo: { mode: 'zoom', value: 2 },
    font: { fontFiles, loadSystemFonts: false, defaultFontFamily: 'DejaVu Sans' },
  })
    .render()
    .asPng()
