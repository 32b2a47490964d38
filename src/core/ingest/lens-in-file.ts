import { namedLens } from '#core/detect/lens'
import type { Lens } from '#core/detect/raster'

const TAGS = ['FocalLengthIn35mmFormat', 'DigitalZoomRatio', 'ExifImageWidth', 'ExifImageHeight']

const ifNumber = (value: unknown): number | undefined => (typeof value === 'number' ? value : undefined)

/**
 * The lens that a photo's file names.
 * @param file its first 64 KiB and more
 * @param width px, as stored or upright
 * @returns undefined where none is named or it cannot be believed, and for damaged files and formats without Exif
 */
export const lensInFile = async (file: Uint8Array, width: number, height: number): Promise<Lens | undefined> => {
  const { default: exifr } = await import('exifr')
  const tags: Record<string, unknown> = await exifr.parse(file, { pick: TAGS, reviveValues: false, translateValues: false }).catch(() => undefined) ?? {}
  const [focal35mm, digitalZoom, taggedWidth, taggedHeight] = TAGS.map((name) => ifNumber(tags[name]))
  return namedLens({ focal35mm, digitalZoom, width: taggedWidth, height: taggedHeight }, width, height)
}
