import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import type { Raster } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type DrawnStroke, drawRaster, seededRandom } from '../draw-raster.ts'

/** px per mm. */
const PX = 8
const SIZE = [1200, 460] as const
const places = Array.from({ length: 20 }, (_, n) => 15 + 5.7 * n + 0.9 * Math.sin(2.1 * n))

const strokes = (dark: (n: number) => number): DrawnStroke[] => {
  const random = seededRandom(3)
  return places.map((mm, n) => ({ from: [mm * PX, 150 + 8 * random()], to: [mm * PX, 230 + 8 * random()], width: 3.5, dark: dark(n) }))
}

/** Millimetre ticks along the foot of the picture, lengths as usual (common practice, no source). */
const ruler: DrawnStroke[] = Array.from({ length: 140 }, (_, n) => ({ from: [20 + n * PX, 280], to: [20 + n * PX, 280 + PX * (n % 10 === 0 ? 7 : n % 5 === 0 ? 5 : 3.5)], width: 2, dark: 150 }))

/** Squares of 5 mm, down to the ruler. */
const squares: DrawnStroke[] = [
  ...Array.from({ length: 29 }, (_, n): DrawnStroke => ({ from: [24 + 5 * n * PX, 5], to: [24 + 5 * n * PX, 270], width: 1.5, dark: 30 })),
  ...Array.from({ length: 6 }, (_, n): DrawnStroke => ({ from: [5, 20 + 5 * n * PX], to: [1190, 20 + 5 * n * PX], width: 1.5, dark: 30 })),
]

const found = (raster: Raster): Detection => {
  const answer = detect(raster, { rig: 'mirror' }, { sheet: null })
  if (isUnmeasurable(answer)) throw new Error(`${answer.what}: ${answer.remedy}`)
  return answer
}

const numbersWhere = ({ marks }: Detection, is: (confidence: number) => boolean): number[] => marks.flatMap((m, i) => (is(m.confidence) ? [i] : []))

describe('a mark far paler than the others', () => {
  const seen = found(drawRaster(SIZE, strokes((n) => (n === 7 ? 22 : 140)), { noise: 2 }))

  it('is found', () => {
    expect(seen.marks).toHaveLength(20)
  })

  it('is doubtful, and no other is', () => {
    expect(numbersWhere(seen, (confidence) => confidence < 0.5)).toEqual([7])
    expect(seen.doubts.join(' ')).toContain('mark 8 is doubtful')
  })
})

describe('pencil on squared paper beside a ruler', () => {
  const seen = found(drawRaster(SIZE, [...squares, ...ruler, ...strokes(() => 70)], { noise: 2 }))

  it('is the trace, and the squares are neither ruler nor marks', () => {
    expect(seen.marks).toHaveLength(20)
    expect(seen.rectifiedBy).toBe('ruler')
  })

  it('is measured by the ruler', () => {
    seen.marks.forEach((m, i) => expect(Math.abs((m.positionMm as number) - ((places[i] as number) - (places[0] as number)))).toBeLessThan(0.1))
  })
})

describe('dots beside a ruler whose ticks are some four px apart', () => {
  const step = 4
  const fine: DrawnStroke[] = Array.from({ length: 280 }, (_, n) => ({ from: [20 + n * step, 280], to: [20 + n * step, 280 + step * (n % 10 === 0 ? 7 : n % 5 === 0 ? 5 : 3.5)], width: 1, dark: 150 }))
  /** Two figures to every tenth tick, as print: more of them than there are dots. */
  const figures: DrawnStroke[] = Array.from({ length: 28 }, (_, n) => [14, 26].map((x): DrawnStroke => ({ from: [x + 40 * n, 317], to: [x + 40 * n, 323], width: 6, dark: 140 }))).flat()
  const dots: DrawnStroke[] = places.map((mm) => ({ from: [mm * PX - 3, 200], to: [mm * PX + 3, 200], width: 6, dark: 130 }))

  it('are the marks, not the numbers on it', () => {
    const seen = found(drawRaster(SIZE, [...fine, ...figures, ...dots], { noise: 2 }))
    expect(seen.marks).toHaveLength(20)
    seen.marks.forEach((m, i) => expect(Math.abs(m.p0[0] - (places[i] as number) * PX)).toBeLessThan(5))
  })
})
