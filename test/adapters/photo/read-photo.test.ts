import { drawOverlay } from '#adapters/photo/draw-overlay'
import { readPhoto } from '#adapters/photo/read-photo'
import type { Detection } from '#core/detect/detection'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import { crc32 } from 'node:zlib'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'

/** A picture with a different grey in every corner, so that a wrong turn shows (simulated). */
const picture = (format: 'jpeg' | 'png' | 'webp', orientation = 1): Promise<Buffer> => {
  const data = Buffer.alloc(300 * 200, 200)
  for (let y = 0; y < 200; y++) for (let x = 0; x < 300; x++) data[y * 300 + x] = x < 150 ? (y < 100 ? 20 : 80) : y < 100 ? 140 : 230
  return sharp(data, { raw: { width: 300, height: 200, channels: 1 } }).withMetadata({ orientation })[format]({ quality: 95 }).toBuffer()
}

/** A PNG that is a header only, with a true checksum. */
const pngHeader = (width: number, height: number): Uint8Array => {
  const body = Buffer.alloc(17)
  body.write('IHDR', 0, 'latin1')
  body.writeUInt32BE(width, 4)
  body.writeUInt32BE(height, 8)
  body.set([8, 2, 0, 0, 0], 12)
  const chunk = Buffer.alloc(25)
  chunk.writeUInt32BE(13, 0)
  body.copy(chunk, 4)
  chunk.writeUInt32BE(typeof crc32 === 'function' ? crc32(body) : 0, 21)
  return Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), chunk])
}

describe('reading a photo', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('turns orientation tag %i as the imaging library itself does', async (orientation) => {
    const bytes = await picture('jpeg', orientation)
    const photo = await readPhoto(bytes)
    if (isUnmeasurable(photo)) throw new Error(sentenceOf(photo))
    const { data, info } = await sharp(bytes).autoOrient().greyscale().raw().toBuffer({ resolveWithObject: true })
    expect([photo.raster.width, photo.raster.height]).toEqual([info.width, info.height])
    for (const [x, y] of [[20, 20], [info.width - 20, 20], [20, info.height - 20], [info.width - 20, info.height - 20]] as const) {
      expect(Math.abs((photo.raster.grey[y * info.width + x] as number) - (data[y * info.width + x] as number))).toBeLessThanOrEqual(2)
    }
  })

  it('has the lens that the file names, turned or not, and none of a photo that was cropped with its tags kept', async () => {
    const named = await sharp({ create: { width: 640, height: 480, channels: 3, background: '#ccc' } }).withExif({ IFD2: { FocalLengthIn35mmFilm: '70' } }).jpeg().toBuffer()
    const lensOf = async (bytes: Uint8Array) => {
      const photo = await readPhoto(bytes)
      return isUnmeasurable(photo) ? sentenceOf(photo) : photo.raster.lens
    }
    const lens = await lensOf(named)
    expect(lens).toEqual({ focal: expect.closeTo(1.98, 2), spread: 0.06 })
    expect(await lensOf(await sharp(named).keepExif().withMetadata({ orientation: 8 }).toBuffer())).toEqual(lens)
    expect(await lensOf(await sharp(named).extract({ left: 100, top: 50, width: 400, height: 380 }).keepExif().toBuffer())).toBeUndefined()
    expect(await lensOf(await picture('jpeg'))).toBeUndefined()
  })

  it.each(['jpeg', 'png', 'webp'] as const)('reads %s', async (format) => {
    const photo = await readPhoto(await picture(format))
    expect(isUnmeasurable(photo)).toBe(false)
  })

  it.each([
    ['junk', async () => Uint8Array.from({ length: 5000 }, (_, i) => (i * 7919) % 251)],
    ['an empty file', async () => new Uint8Array(0)],
    ['a JPEG cut off half way', async () => (await picture('jpeg')).subarray(0, 900)],
    ['a picture of one pixel', () => sharp({ create: { width: 1, height: 1, channels: 3, background: '#fff' } }).png().toBuffer()],
    ['a header of 30,000 × 30,000', async () => pngHeader(30_000, 30_000)],
    ['an SVG', async () => new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg" width="900" height="900"/>')],
  ])('refuses %s within 2 s, in one sentence with a cure', async (_, make) => {
    const bytes = await make()
    const start = performance.now()
    const answer = await readPhoto(bytes)
    expect(performance.now() - start).toBeLessThan(2000)
    if (!isUnmeasurable(answer)) throw new Error('it was read')
    expect(sentenceOf(answer)).toMatch(/^photo: .+; .+\.$/)
  })
})

describe('the overlay', () => {
  it('is a PNG of the upright photo’s shape whose legend is written without any system font', async () => {
    const bytes = await sharp({ create: { width: 900, height: 600, channels: 3, background: '#fff' } }).jpeg().toBuffer()
    const detection: Detection = {
      kind: 'detection', rig: 'pointer', widthPx: 900, heightPx: 600, centrePx: [450, 300], centreCovariancePx: [1, 0, 1], centreUDeg: 0.1, rectifiedBy: 'none',
      rectificationUDeg: 0.1, pixelsPerMm: null, cornersPx: null, refused: [], sheet: null, doubts: [],
      marks: [{ angleDeg: 0, uDeg: 0.1, uOwnDeg: 0.1, positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null, p0: [600, 300], p1: [650, 300], widthPx: 3, confidence: 1, multiplicity: 1 }],
    }
    const png = await drawOverlay(bytes, detection)
    const { data, info } = await sharp(png).greyscale().raw().toBuffer({ resolveWithObject: true })
    expect([info.width, info.height]).toEqual([900, 600])
    // Letters of the legend: dark pixels where only text is drawn.
    let dark = 0
    for (let y = 500; y < 595; y++) for (let x = 45; x < 220; x++) if ((data[y * 900 + x] as number) < 110) dark++
    expect(dark).toBeGreaterThan(150)
  })
})
