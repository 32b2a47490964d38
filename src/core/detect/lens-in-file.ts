import type { Lens } from './raster.ts'

/** Tags of Exif's own directory (Exif 2.3, tables 4 and 5). */
const WIDTH = 0xa002
const HEIGHT = 0xa003
const ZOOM = 0xa404
const FOCAL_35MM = 0xa405
const EXIF_DIRECTORY = 0x8769

type Directory = ReadonlyMap<number, number>

/** Where the Exif block of a JPEG begins, "Exif" and two zeros left out (Exif 2.3, 4.5.4). */
const exifBlock = (file: DataView): number | null => {
  for (let at = 2; file.getUint8(at) === 0xff && file.getUint8(at + 1) !== 0xda; at += 2 + file.getUint16(at + 2)) {
    if (file.getUint8(at + 1) === 0xe1 && file.getUint32(at + 4) === 0x45786966) return at + 10
  }
  return null
}

/** The single numbers in a directory (TIFF 6.0, section 2: types 3 SHORT, 4 LONG, 5 RATIONAL). */
const readDirectory = (block: DataView, from: number, little: boolean): Directory => {
  const valueAt = (at: number): number => {
    const type = block.getUint16(at + 2, little)
    if (type === 3) return block.getUint16(at + 8, little)
    const value = block.getUint32(at + 8, little)
    return type === 5 ? block.getUint32(value, little) / block.getUint32(value + 4, little) : type === 4 ? value : Number.NaN
  }
  const places = Array.from({ length: block.getUint16(from, little) }, (_, i) => from + 2 + 12 * i)
  return new Map(places.map((at) => [block.getUint16(at, little), valueAt(at)]))
}

/** Exif's own directory of a JPEG; null where it has none. */
const exifDirectory = (file: DataView): Directory | null => {
  const start = exifBlock(file)
  if (start === null) return null
  const block = new DataView(file.buffer, file.byteOffset + start, file.byteLength - start)
  const little = block.getUint16(0) === 0x4949
  const own = readDirectory(block, block.getUint32(4, little), little).get(EXIF_DIRECTORY)
  return own === undefined ? null : readDirectory(block, own, little)
}

/** Focal lengths that cameras have, mm on 35-mm film. */
const [SHORTEST, LONGEST] = [10, 200]
/** Longer side of the picture on 35-mm film, mm: 34.6 at 4 : 3 where makers go by the diagonal (43.27 mm), 36 where they go by the width. */
const FILM_MM = 35.3
/** That, the rounding to whole mm, and the focussing on something near (common practice, no source). */
const SPREAD = 0.06
/** Length over width of what whole sensors give; anything else was cropped. */
const WHOLE = [4 / 3, 3 / 2, 16 / 9]
const ALIKE = 0.006

const lensBy = (exif: Directory, width: number, height: number): Lens | undefined => {
  const [long, short] = [Math.max(width, height), Math.min(width, height)]
  const said = [exif.get(WIDTH) ?? 0, exif.get(HEIGHT) ?? 0]
  const asTaken = Math.max(...said) === long && Math.min(...said) === short && WHOLE.some((shape) => Math.abs(long / short / shape - 1) < ALIKE)
  // Nothing stands for none, and so does a numerator of 0.
  const zoom = exif.get(ZOOM) || 1
  const mm = exif.get(FOCAL_35MM) ?? 0
  return asTaken && zoom === 1 && mm >= SHORTEST && mm <= LONGEST ? { focal: mm / FILM_MM, spread: SPREAD } : undefined
}

/**
 * The lens that a JPEG names by its focal length on 35-mm film (Exif 2.3, tag 0xA405). Whoever crops a photo leaves that tag as it is: it is
 * believed only where the picture still has the size that the camera wrote down and a sensor's shape, and no digital zoom is named.
 * @param file its first 64 KiB and more
 * @param width px, as stored or upright
 * @returns undefined where nothing is named or what is named cannot be believed, and for damaged or other files
 */
export const lensInFile = (file: Uint8Array, width: number, height: number): Lens | undefined => {
  try {
    const exif = exifDirectory(new DataView(file.buffer, file.byteOffset, file.byteLength))
    return exif === null ? undefined : lensBy(exif, width, height)
  } catch (error) {
    // A length or a place in a damaged file may point out of it.
    if (error instanceof RangeError) return undefined
    throw error
  }
}
