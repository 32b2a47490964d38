import type { Candidate } from '#core/detect/line/candidate'
import { isBareBetween, isGap } from '#core/detect/stroke/bare-between'
import { strokeBetween } from '#core/detect/stroke/stroke-model'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster } from '../draw-raster.ts'

const stroke = (x: number, dark: number, width = 4): DrawnStroke => ({ from: [x, 40], to: [x, 100], width, dark })

/** Strokes 16 px apart, each between two bright rims, as sharpening leaves them (simulated). */
const sharpened = [60, 76, 92].flatMap((x) => [stroke(x, 110), stroke(x - 4, -25), stroke(x + 4, -25)])

/** What a fit makes of a place between two of them: a band as much darker than the rims as these are brighter than the paper. */
const lookedAt = (x: number, halfWidth: number, dark: number) => strokeBetween([x, 40], [x, 100], { halfWidth, sigma: 1, amplitudes: [dark, dark] })

describe('bare paper between the bright rims of sharpened strokes', () => {
  const raster = drawRaster([160, 140], sharpened, { ground: 180 })

  it('is told from ink by the paper beyond its ends', () => {
    expect(isBareBetween(raster, lookedAt(68, 3, 25))).toBe(true)
    expect(isBareBetween(raster, lookedAt(76, 2, 135))).toBe(false)
  })

  it('is not seen in a stroke narrower than its blur, the least ink of a fit that is no darker than its paper for it', () => {
    const thin = drawRaster([160, 140], [stroke(76, 110, 0.8)], { ground: 180, blur: 1.3 })
    expect(isBareBetween(thin, { ...lookedAt(76, 0.4, 110), sigma: 1.3 })).toBe(false)
  })

  it('nor in a stroke that crosses a strip of paper from edge to edge, with a dark desk beyond', () => {
    const strip = drawRaster([160, 140], [stroke(76, 110)], { ground: (_, y) => (y < 38 || y > 102 ? 40 : 200) })
    expect(isBareBetween(strip, lookedAt(76, 2, 110))).toBe(false)
  })
})

describe('a dark line that was found and not fitted', () => {
  const line = (x: number, lit: number, own: number): Candidate =>
    ({ p0: [x, 40], p1: [x, 100], middle: [x, 70], along: [0, 1], lengthPx: 60, widthPx: 4, depth: Math.log((lit + 12) / (own + 12)), beside: Math.log(lit + 12), step: 0, share: 1 })

  it('is a gap where the card beyond its ends is as dark as it', () => {
    const card = drawRaster([160, 140], [60, 68, 76].map((x) => stroke(x, -120)), { ground: 40 })
    expect(isGap(card, line(64, 150, 45))).toBe(true)
    const paper = drawRaster([160, 140], [60, 68, 76].map((x) => stroke(x, 120)), { ground: 180 })
    expect(isGap(paper, line(68, 175, 65))).toBe(false)
  })
})
