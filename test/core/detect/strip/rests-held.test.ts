import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import type { Raster } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { drawStrip, seenAs, unevenPlaces } from './draw-strip.ts'

const found = (raster: Raster): Detection => {
  const answer = detect(raster, { rig: 'mirror' }, { sheet: null })
  if (isUnmeasurable(answer)) throw new Error(`${answer.what}: ${answer.remedy}`)
  return answer
}

/** 6 px/mm, so that the strokes of 0.6 mm are 3.6 px wide. */
const SQUARE_ON = seenAs([[0, 0], [200, 0], [200, 60], [0, 60]], [[0, 0], [1200, 0], [1200, 360], [0, 360]])
const marks = unevenPlaces(32, 4, 3)

describe('strokes in a row', () => {
  it('that lie half over each other are seen as one, which is said to hold more than one rest', () => {
    const crowded = [...marks, (marks[11] as number) + 0.5]
    const detection = found(drawStrip({ size: [1200, 360], map: SQUARE_ON, marks: crowded }))
    expect(detection.marks).toHaveLength(32)
    expect(detection.marks.flatMap(({ multiplicity }, i) => (multiplicity > 1 ? [i] : []))).toEqual([11])
    expect(detection.doubts.join(' ')).toContain('marks 12 (2) may hold more than one rest position')
    const [held, single] = [detection.marks[11]?.uOwnPosition as number, detection.marks[10]?.uOwnPosition as number]
    // The two stand 1.5 px to either side of where the one is seen.
    expect(held).toBeGreaterThan(1)
    expect(single).toBeLessThan(0.1)
  })

  it('hold one each where all are as wide', () => {
    const { marks: seen, doubts } = found(drawStrip({ size: [1200, 360], map: SQUARE_ON, marks }))
    expect(seen.map(({ multiplicity }) => multiplicity)).toEqual(marks.map(() => 1))
    expect(doubts.join(' ')).not.toContain('may hold more')
  })
})
