import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { alongDoubt, confidenceOf, dropTwins, likenessOf, multiplicityOf } from '#core/detect/dial/judge-marks'
import { describe, expect, it } from 'vitest'

interface Look {
  readonly width?: number
  readonly contrast?: number
  readonly outer?: number
}

/** Twenty marks 40 long and 3 px wide of one darkness, but for the ones that look otherwise. */
const marks = (...others: readonly Look[]): FittedMark[] =>
  Array.from({ length: 20 }, (_, i): FittedMark => {
    const { width = 3, contrast = 0.4, outer = 140 } = others[i] ?? {}
    return {
      fit: {
        model: { middle: [120, 30 * i], along: [1, 0], halfLength: (outer - 100) / 2, bow: [0, 0, 0], halfWidth: width / 2, sigma: 1, amplitudes: [200 * contrast, 200 * contrast] },
        noise: 2, uOffset: 0.02, outliers: 0, clumping: 1, paper: 200,
      },
      bearing: 0.3 * i, inner: 100, outer, lean: 0, widthPx: width, contrast,
    }
  })

const multiplicities = (all: readonly FittedMark[], seen = 1): number[] => all.map((m) => multiplicityOf(m, likenessOf(all), seen))

describe('how many rest positions a mark may hold', () => {
  it('is told by its width, one more for each usual one', () => {
    expect(multiplicities(marks({ width: 4.2 }, { width: 6 }, { width: 9 })).slice(0, 4)).toEqual([1, 2, 3, 1])
  })

  it('is told by its ink where the blur hides that there are two, but not where a hand only pressed', () => {
    const inked = marks({ contrast: 0.56 }, { contrast: 0.8 }, { contrast: 1.2 })
    expect(multiplicities(inked, 1.1).slice(0, 4)).toEqual([1, 2, 3, 1])
    expect(multiplicities(inked, 1.05).every((n) => n === 1)).toBe(true)
  })

  it('is one where ink differs from mark to mark as much', () => {
    const uneven = Array.from({ length: 20 }, (_, i) => ({ contrast: 0.2 + 0.03 * i }))
    expect(multiplicities(marks(...uneven), 1.1).every((n) => n === 1)).toBe(true)
  })
})

describe('a piece of a round stain', () => {
  const stroke = (marks() as [FittedMark])[0]
  const like = likenessOf(marks())
  const sureOf = (halfWidth: number, darkness: number, sagitta: number): number => {
    const model = { ...stroke.fit.model, halfWidth, amplitudes: [200 * darkness, 200 * darkness], bow: [-sagitta / 3, 0, (2 * sagitta) / 3] as const }
    return confidenceOf({ ...stroke, fit: { ...stroke.fit, model }, widthPx: 2 * halfWidth, contrast: darkness }, like)
  }

  it('is doubted: broad, pale and bowed', () => expect(sureOf(2.7, 0.2, 2)).toBeLessThan(0.5))

  it('is none where it is straight, or narrow, or as dark as strokes that touch', () => {
    for (const sure of [sureOf(2.7, 0.2, 0.1), sureOf(1.5, 0.4, 2), sureOf(2.7, 0.4, 2)]) expect(sure).toBeGreaterThan(0.5)
  })
})

describe('how far along a stroke its middle may be off', () => {
  it('is half a hundredth of its length for strokes like the others', () => {
    expect(alongDoubt(marks()[0] as FittedMark, likenessOf(marks()))).toBeCloseTo(0.005, 12)
  })

  it('is more for one that is longer than the others by more than they differ', () => {
    const all = marks({ outer: 170 })
    // 30 longer, 2.5 spreads of 0.15 × 40 are usual: 15 are odd, and half of that is off two times in five; of a length of 70.
    expect(alongDoubt(all[0] as FittedMark, likenessOf(all))).toBeCloseTo(Math.hypot(0.005, (0.5 * Math.sqrt(0.4) * 15) / 70), 12)
  })
})

describe('two fits for the same ink', () => {
  const [one, other] = marks() as [FittedMark, FittedMark]
  const asidePx = 1.2
  const twin = { ...other, bearing: one.bearing + asidePx / 120 }

  it('leave one mark, which may lie half way to the other where both hold as much ink', () => {
    const { kept, twins } = dropTwins([one, twin], 1)
    expect([kept.length, twins.length]).toEqual([1, 1])
    expect(kept[0]?.fit.uOffset).toBeCloseTo(Math.hypot(0.02, asidePx / 2), 12)
  })

  it('leave it where it was when the other holds little, and are two marks a width apart', () => {
    const faint = { ...twin, contrast: one.contrast / 9, fit: { ...twin.fit, model: { ...twin.fit.model, amplitudes: twin.fit.model.amplitudes.map((a) => a / 9) } } }
    expect(dropTwins([one, faint], 1).kept[0]?.fit.uOffset).toBeCloseTo(Math.hypot(0.02, asidePx / 10), 12)
    expect(dropTwins([one, { ...one, bearing: one.bearing + 3 / 120 }], 1).kept.map((m) => m.fit.uOffset)).toEqual([0.02, 0.02])
  })

  it('leave one mark where they lie end to end on one line that does not aim at the shaft, and two where they lie side by side or far apart', () => {
    // 3 px aside of each other as seen from the shaft; the stroke is 40 px long.
    const farther = (along: number): FittedMark => ({ ...one, bearing: one.bearing + 3 / 120, fit: { ...one.fit, model: { ...one.fit.model, middle: [120 + along, 0.8] } } })
    expect([38, 46, 10, 80].map((along) => dropTwins([one, farther(along)], 1).kept.length)).toEqual([1, 1, 2, 2])
  })
})
