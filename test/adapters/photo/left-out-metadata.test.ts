import { readFileSync } from 'node:fs'
import sharp from 'sharp'
import { expect, it } from 'vitest'
import { drawOverlay } from '#adapters/photo/draw-overlay'
import type { Detection } from '#core/detect/detection'

const detection: Detection = {
  kind: 'detection', rig: 'pointer', widthPx: 2592, heightPx: 1944, centrePx: [1200, 900], centreCovariancePx: [1, 0, 1], centreUDeg: 0.01, rectifiedBy: 'none',
  rectificationUDeg: null, pixelsPerMm: null, cornersPx: null, marks: [], refused: [], sheet: null, doubts: [],
}

// Exif 2.3, table 15 (GPS attribute information), from memory: latitude and longitude as three rationals each.
const place = { IFD0: { Artist: 'A. Nonym', Model: 'phone of somebody' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1', GPSLongitudeRef: 'E', GPSLongitude: '7/1 27/1 0/1' } }

it('the overlay of a photo with place, maker and profile in it has none of them', async () => {
  const photo = await sharp(readFileSync('samples/flap-1-plain.jpg')).withExif(place).withIccProfile('p3').jpeg().toBuffer()
  expect(photo.includes('phone of somebody')).toBe(true)
  const overlay = await drawOverlay(photo, detection)
  const { exif, icc, xmp, iptc } = await sharp(overlay).metadata()
  expect({ exif, icc, xmp, iptc }).toEqual({})
  expect(['phone of somebody', 'A. Nonym', 'GPS', 'eXIf'].filter((word) => Buffer.from(overlay).includes(word))).toEqual([])
})
