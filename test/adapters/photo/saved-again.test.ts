import { readPhoto } from '#adapters/photo/read-photo'
import { detect } from '#core/detect/detect'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import { readFile } from 'node:fs/promises'
import sharp, { type Sharp } from 'sharp'
import { describe, expect, it } from 'vitest'

const WAYS: readonly (readonly [string, (photo: Sharp) => Sharp])[] = [
  ['compressed hard', (photo) => photo.jpeg({ quality: 40 })],
  ['for print', (photo) => photo.toColourspace('cmyk').jpeg({ quality: 92 })],
  ['darker and paler', (photo) => photo.linear(0.45, 60).jpeg({ quality: 92 })],
  ['sharpened', (photo) => photo.sharpen({ sigma: 2, m1: 2, m2: 2 }).jpeg({ quality: 92 })],
  ['smaller', (photo) => photo.resize({ width: 1555 }).png()],
]

describe('a photo that another program saved again (rendered; its truth says 48 marks)', () => {
  it.each(WAYS)('%s: the same marks, not the numbers beside them', async (_, save) => {
    const bytes = await save(sharp(await readFile('samples/flap-1-plain.jpg')).autoOrient()).toBuffer()
    const photo = await readPhoto(bytes)
    if (isUnmeasurable(photo)) throw new Error(sentenceOf(photo))
    const seen = detect(photo.raster)
    if (isUnmeasurable(seen)) throw new Error(sentenceOf(seen))
    expect([seen.marks.length, seen.rectifiedBy]).toEqual([48, 'turn'])
  })
})
