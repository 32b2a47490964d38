import type { Metadata } from 'sharp'
import { type Orientation, uprightGrey } from '#core/detect/grey'
import type { Raster } from '#core/detect/raster'
import { lensInFile } from '#core/ingest/lens-in-file'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { sharp } from './sharp.ts'

const LEAST_MEGAPIXELS = 0.02
const MOST_MEGAPIXELS = 51
const READABLE = ['jpeg', 'png', 'webp', 'avif', 'heif', 'tiff']

export interface Photo {
  readonly kind: 'photo'
  /** Upright, grey, with the lens that the file names. */
  readonly raster: Raster
  /** As stored in the file, before any turning. */
  readonly storedWidth: number
  readonly storedHeight: number
  /** Exif orientation that was honoured. */
  readonly orientation: Orientation
  readonly format: string
}

const refuse = (what: string, remedy: string): Unmeasurable => unmeasurable(what, 'photo', remedy)

/** Reads the header only: what is declared is checked before a single pixel is decoded. */
const checkHeader = async (bytes: Uint8Array): Promise<Metadata | Unmeasurable> => {
  // Nothing at all makes the library throw at once; what it cannot read it rejects.
  const header = bytes.length === 0 ? null : await sharp(bytes, { limitInputPixels: false, failOn: 'none' }).metadata().catch(() => null)
  if (header === null || !READABLE.includes(header.format ?? '')) {
    return refuse('this is not a picture that can be read', 'give a JPEG, PNG or WebP photo (save HEIC as JPEG first)')
  }
  const { width, height } = header
  const megapixels = (width * height) / 1e6
  if (megapixels > MOST_MEGAPIXELS || Math.max(width, height) > 16_383) {
    return refuse(`the picture says it is ${width} × ${height} pixels, more than 50 megapixels`, 'scale it down or crop it to the paper')
  }
  if (megapixels < LEAST_MEGAPIXELS || Math.min(width, height) < 100) {
    return refuse(`the picture is only ${width} × ${height} pixels`, 'take a sharper, larger photo of the marks (at least 640 × 480)')
  }
  return header
}

const orientationOf = (tag: number | undefined): Orientation =>
  tag !== undefined && Number.isInteger(tag) && tag >= 1 && tag <= 8 ? (tag as Orientation) : 1

/**
 * A phone photo as an upright grey raster: JPEG, PNG, WebP, AVIF or TIFF, 0.02 to 51 megapixels, all eight orientation tags.
 * Damaged, foreign or oversized files come back as what is wrong and what to do; the declared size is checked before decoding.
 */
export const readPhoto = async (bytes: Uint8Array): Promise<Photo | Unmeasurable> => {
  if (bytes.length === 0) return refuse('the file is empty', 'copy it again from the phone, or take the photo again')
  const header = await checkHeader(bytes)
  if (isUnmeasurable(header)) return header
  // A colour profile says how inks look, and only dark and light count here: to apply it takes as long as to decode the photo.
  const pipeline = sharp(bytes, { failOn: 'error', sequentialRead: true, limitInputPixels: MOST_MEGAPIXELS * 1e6, autoOrient: false, ignoreIcc: true })
  const decoded = await pipeline.toColourspace('srgb').raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true }).catch((error: Error) => error)
  if (decoded instanceof Error) {
    return header.format === 'heif'
      ? refuse('this HEIC photo uses a compression that cannot be decoded here', 'save or share it as JPEG and try again')
      : refuse('the picture is damaged or cut off', 'copy the file again from the phone, or take the photo again')
  }
  const { width, height, channels } = decoded.info
  const orientation = orientationOf(header.orientation)
  const raster = uprightGrey({ width, height, channels, samples: decoded.data }, orientation)
  const lens = header.exif && (await lensInFile(bytes, width, height))
  return { kind: 'photo', raster: { ...raster, ...(lens && { lens }) }, storedWidth: width, storedHeight: height, orientation, format: header.format }
}
