import { lensInFile } from '#core/ingest/lens-in-file'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'

// All pictures here are simulated; the tags are written by the imaging library, by their names in Exif 2.3.

type Tags = Readonly<Record<string, string>>

const photo = (tags: Tags, [width, height]: readonly [number, number] = [640, 480], orientation = 1): Promise<Buffer> =>
  sharp({ create: { width, height, channels: 3, background: '#ccc' } })
    .withExif({ IFD0: { Orientation: String(orientation) }, IFD2: tags })
    .jpeg()
    .toBuffer()

describe('the lens that a photo names', () => {
  it('has the focal length on 35-mm film over the length that a picture has there: 26 mm and 70 mm', async () => {
    for (const mm of [26, 70]) {
      const lens = await lensInFile(await photo({ FocalLengthIn35mmFilm: String(mm) }), 640, 480)
      // By the diagonal, 43.27 mm, a picture of 4 : 3 is 34.6 mm long; by the width, 36 mm: both lie within the spread.
      for (const film of [34.6, 36]) expect(Math.abs(Math.log(((lens?.focal ?? 0) * film) / mm))).toBeLessThan((lens?.spread ?? 0) / 2)
    }
  })

  it('is the same however the photo was turned, by a tag or by whoever decoded it', async () => {
    const upright = await lensInFile(await photo({ FocalLengthIn35mmFilm: '52' }), 640, 480)
    expect(upright).toBeDefined()
    expect(await lensInFile(await photo({ FocalLengthIn35mmFilm: '52' }, [640, 480], 6), 480, 640)).toEqual(upright)
  })

  it.each([
    ['no tag', {}, [640, 480]],
    ['a focal length of 0, which stands for an unknown one', { FocalLengthIn35mmFilm: '0' }, [640, 480]],
    ['one that no camera has', { FocalLengthIn35mmFilm: '900' }, [640, 480]],
    ['digital zoom', { FocalLengthIn35mmFilm: '26', DigitalZoomRatio: '2/1' }, [640, 480]],
    ['a shape that no sensor has', { FocalLengthIn35mmFilm: '26' }, [640, 400]],
  ] as const)('is not told by %s', async (_, tags: Tags, [width, height]) => {
    expect(await lensInFile(await photo(tags, [width, height]), width, height)).toBeUndefined()
  })

  it('is told by a digital zoom of one or of none', async () => {
    for (const DigitalZoomRatio of ['1/1', '0/1']) expect(await lensInFile(await photo({ FocalLengthIn35mmFilm: '26', DigitalZoomRatio }), 640, 480)).toBeDefined()
  })

  it('is not told where the picture is no longer of the size that the camera wrote down', async () => {
    expect(await lensInFile(await photo({ FocalLengthIn35mmFilm: '26' }), 320, 240)).toBeUndefined()
  })

  it('is not told by another file, by one cut off anywhere, or by one whose tags point anywhere', async () => {
    const whole = await photo({ FocalLengthIn35mmFilm: '26' })
    const head = whole.subarray(0, 400)
    expect(await lensInFile(await sharp(whole).png().toBuffer(), 640, 480)).toBeUndefined()
    for (let length = 0; length < head.length; length++) await lensInFile(whole.subarray(0, length), 640, 480)
    for (let at = 0; at < head.length; at++) for (const value of [0, 0x7f, 0xff]) await lensInFile(Uint8Array.from(head, (byte, i) => (i === at ? value : byte)), 640, 480)
  })
})
