import sharp from 'sharp'
import type { Picture } from './photograph.ts'

export interface Encoding {
  readonly format: 'jpeg' | 'png' | 'webp'
  readonly quality: number
  /** EXIF orientation tag, 1 … 8: the stored pixels are turned so that a reader that honours it sees the upright picture. */
  readonly orientation: number
  readonly chroma: '4:2:0' | '4:4:4'
  /** Focal length on 35-mm film, whole mm, that the camera writes into the file; left out: none. */
  readonly lensMm?: number
}

/** Stored pixel (column, row) for an upright one, by tag (EXIF 2.3, tag 0x0112). */
const storedPlace = (orientation: number, x: number, y: number, size: Picture): readonly [number, number] => {
  const [w, h] = [size.width - 1, size.height - 1]
  switch (orientation) {
    case 2: return [w - x, y]
    case 3: return [w - x, h - y]
    case 4: return [x, h - y]
    case 5: return [y, x]
    case 6: return [y, w - x]
    case 7: return [h - y, w - x]
    case 8: return [h - y, x]
    default: return [x, y]
  }
}

/** The picture as a camera held another way would store it. */
export const storeTurned = (picture: Picture, orientation: number): Picture => {
  if (orientation === 1) return picture
  const swapped = orientation >= 5
  const [width, height] = swapped ? [picture.height, picture.width] : [picture.width, picture.height]
  const rgb = new Uint8Array(picture.rgb.length)
  for (let y = 0; y < picture.height; y++)
    for (let x = 0; x < picture.width; x++) {
      const [sx, sy] = storedPlace(orientation, x, y, picture)
      const from = (y * picture.width + x) * 3
      const to = (sy * width + sx) * 3
      for (let c = 0; c < 3; c++) rgb[to + c] = picture.rgb[from + c] ?? 0
    }
  return { width, height, rgb }
}

/** The photo file's bytes. */
export const encode = async (picture: Picture, encoding: Encoding): Promise<Buffer> => {
  const { width, height, rgb } = storeTurned(picture, encoding.orientation)
  const plain = sharp(rgb, { raw: { width, height, channels: 3 }, limitInputPixels: false }).withMetadata({ orientation: encoding.orientation })
  const raw = encoding.lensMm === undefined ? plain : plain.withExifMerge({ IFD2: { FocalLengthIn35mmFilm: String(encoding.lensMm) } })
  if (encoding.format === 'png') return raw.png({ compressionLevel: 6 }).toBuffer()
  if (encoding.format === 'webp') return raw.webp({ quality: encoding.quality }).toBuffer()
  return raw.jpeg({ quality: encoding.quality, chromaSubsampling: encoding.chroma }).toBuffer()
}
