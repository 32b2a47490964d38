import sharp from 'sharp'
import { readPhoto } from '#adapters/photo/read-photo'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { broken, type Target } from './target.ts'

/** A small picture of lines on grey, in every format that is read, with orientation and place written into some. */
const pictures = async (): Promise<readonly Uint8Array[]> => {
  const lines = Array.from({ length: 12 }, (_, i) => `<path d="M120 100L${120 + 80 * Math.cos(i / 2)} ${100 + 80 * Math.sin(i / 2)}" stroke="#222" stroke-width="2"/>`).join('')
  const drawn = sharp(Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="240" height="200"><rect width="240" height="200" fill="#ddd"/>${lines}</svg>`))
  const base = await drawn.png().toBuffer()
  return Promise.all([
    sharp(base).jpeg({ quality: 80 }).withMetadata({ orientation: 6 }).toBuffer(),
    sharp(base).jpeg({ progressive: true, quality: 60 }).withExif({ IFD3: { GPSLatitudeRef: 'N' } }).toBuffer(),
    sharp(base).png({ palette: true }).toBuffer(),
    sharp(base).png().toBuffer(),
    sharp(base).webp().toBuffer(),
    sharp(base).tiff({ compression: 'lzw' }).toBuffer(),
  ])
}

/** Bytes → upright raster or a refusal; never a throw, never a raster whose pixels do not fill it. */
export const photoTarget = async (): Promise<Target> => ({
  name: 'photo',
  corpus: await pictures(),
  run: async (input) => {
    const photo = await readPhoto(input)
    if (isUnmeasurable(photo)) return false
    const { raster } = photo
    if (raster.grey.length !== raster.width * raster.height) broken('a raster’s pixels fill it')
    return true
  },
})
