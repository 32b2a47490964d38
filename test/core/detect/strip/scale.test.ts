import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import { oddWidth } from '#core/detect/strip/strip-scale'
import { applyHomography, invertHomography } from '#core/numeric/homography'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { drawStrip, millimetres, seenAs, unevenPlaces } from './draw-strip.ts'

describe('a strip on a sheet of a quarter of A4 (A6, 148 × 105 mm by ISO 216), all of it in view', () => {
  const sheet = [[0, -23], [148, -23], [148, 82], [0, 82]] as const
  // By a usual lens (0.85 of the picture's longer side), tilted by 15 degrees.
  const map = seenAs(sheet, sheet.map(([x, y]) => {
    const share = 1020 / (180 + (y - 30) * Math.sin(Math.PI / 12))
    return [600 + share * (x - 74), 400 + share * (y - 30) * Math.cos(Math.PI / 12)]
  }))
  const back = invertHomography(map)
  const paper = (x: number, y: number): number => {
    const [along, across] = applyHomography(back, [x, y])
    return along > 0 && along < 148 && across > -23 && across < 82 ? 215 : 160
  }
  const marks = unevenPlaces(24, 4.8, 3)
  const raster = drawStrip({ size: [1200, 800], map, marks, untidy: 1, ground: paper })
  const found = (hints: Hints, picture = raster): Detection => {
    const answer = detect(picture, { rig: 'mirror', ...hints }, { sheet: null })
    if (isUnmeasurable(answer)) throw new Error(answer.what)
    return answer
  }
  const span = (marks[23] as number) - (marks[0] as number)

  it('has no millimetres, since A4 has the same shape, and says what gives them', () => {
    const detection = found({})
    expect(detection.rectifiedBy).toBe('paper')
    expect(detection.marks).toHaveLength(24)
    expect(detection.marks.every((m) => m.positionMm === null)).toBe(true)
    expect(detection.strip?.scale).toBeNull()
    expect(detection.doubts.join(' ')).toContain('--paper')
  })

  it('has those of the size that was said', () => {
    const detection = found({ paperMm: [148, 105] })
    expect(detection.strip?.scale).toContain('the size of the paper')
    expect(Math.abs((detection.marks[23]?.positionMm as number) - span)).toBeLessThan(0.002 * span)
  })

  it('has those of a ruler that lies beside the sheet', () => {
    const detection = found({}, drawStrip({ size: [1200, 800], map, marks, untidy: 1, ground: paper, ruler: { step: 1, count: 145, at: 85, side: 1, length: millimetres } }))
    expect(detection.rectifiedBy).toBe('ruler')
    expect(detection.marks).toHaveLength(24)
    expect(Math.abs((detection.marks[23]?.positionMm as number) - span)).toBeLessThan(0.002 * span)
  })

  it('has those of two points given, whatever the sheet was taken for', () => {
    const detection = found({ scalePx: { from: applyHomography(map, [10, 30]), to: applyHomography(map, [110, 30]), mm: 100 } })
    expect(Math.abs((detection.marks[23]?.positionMm as number) - span)).toBeLessThan(0.002 * span)
  })
})

// Pens draw lines of 0.1 to some mm (common practice, no source): 1.5 px at 27 px/mm is a tape's centimetres taken for millimetres.
it.each([
  [27, undefined, 1],
  [2.7, undefined, 0],
  [27, 1, 0],
  [0.27, undefined, 1],
])('doubts a ruler by which strokes 1.5 px wide, at %d px/mm and a tick of %s mm said, are no pen’s', (pxPerMm, tickMm, doubts) => {
  const scale = { mmPerUnit: 1, relative: 0.001, from: 'ruler', words: 'a ruler' } as const
  expect(oddWidth(scale, 1.5 / pxPerMm, tickMm)).toHaveLength(doubts)
})
