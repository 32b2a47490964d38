import { type Orientation, uprightGrey } from '#core/detect/grey'
import { describe, expect, it } from 'vitest'

// Exif 2.3, tag 0x0112: the value names where the stored row 0 and column 0 lie in the upright picture.
// Upright picture used throughout, 3 wide and 2 high:  1 2 3 / 4 5 6
const stored: readonly (readonly [Orientation, readonly [number, number], readonly number[]])[] = [
  [1, [3, 2], [1, 2, 3, 4, 5, 6]], // row 0 top, column 0 left
  [2, [3, 2], [3, 2, 1, 6, 5, 4]], // row 0 top, column 0 right
  [3, [3, 2], [6, 5, 4, 3, 2, 1]], // row 0 bottom, column 0 right
  [4, [3, 2], [4, 5, 6, 1, 2, 3]], // row 0 bottom, column 0 left
  [5, [2, 3], [1, 4, 2, 5, 3, 6]], // row 0 left, column 0 top
  [6, [2, 3], [3, 6, 2, 5, 1, 4]], // row 0 right, column 0 top
  [7, [2, 3], [6, 3, 5, 2, 4, 1]], // row 0 right, column 0 bottom
  [8, [2, 3], [4, 1, 5, 2, 6, 3]], // row 0 left, column 0 bottom
]

describe('upright grey picture', () => {
  it.each(stored)('orientation %i is turned upright', (orientation, [width, height], samples) => {
    const raster = uprightGrey({ width, height, channels: 1, samples: Uint8Array.from(samples) }, orientation)
    expect([raster.width, raster.height]).toEqual([3, 2])
    expect([...raster.grey]).toEqual([1, 2, 3, 4, 5, 6])
  })

  it('mixes red, green and blue as ITU-R BT.601 luma: 76, 150, 29 for the full primaries', () => {
    const samples = Uint8Array.from([255, 0, 0, 0, 255, 0, 0, 0, 255, 255, 255, 255])
    const { grey } = uprightGrey({ width: 4, height: 1, channels: 3, samples })
    ;[76, 150, 29, 255].forEach((value, i) => expect(Math.abs((grey[i] as number) - value)).toBeLessThanOrEqual(1))
  })

  it('mixes alike wherever a pixel stands in its row, three channels or four', () => {
    const width = 53
    const three = Uint8Array.from({ length: 3 * 3 * width }, (_, i) => (i * 167 + (i >> 3)) % 256)
    const four = Uint8Array.from({ length: 4 * 3 * width }, (_, i) => (i % 4 === 3 ? 255 : (three[3 * (i >> 2) + (i % 4)] as number)))
    const byHand = Array.from({ length: 3 * width }, (_, i) => (77 * (three[3 * i] as number) + 150 * (three[3 * i + 1] as number) + 29 * (three[3 * i + 2] as number) + 128) >> 8)
    expect([...uprightGrey({ width, height: 3, channels: 3, samples: three }).grey]).toEqual(byHand)
    expect([...uprightGrey({ width, height: 3, channels: 4, samples: four }).grey]).toEqual(byHand)
  })

  it('lays transparency over white', () => {
    expect([...uprightGrey({ width: 1, height: 1, channels: 2, samples: Uint8Array.from([0, 0]) }).grey]).toEqual([255])
    expect([...uprightGrey({ width: 2, height: 1, channels: 2, samples: Uint8Array.from([100, 128, 7, 255]) }).grey]).toEqual([255 - Math.round((155 * 128) / 255), 7])
  })

  it('says when samples are lacking', () => {
    expect(() => uprightGrey({ width: 2, height: 2, channels: 3, samples: new Uint8Array(4) })).toThrow(RangeError)
  })
})
