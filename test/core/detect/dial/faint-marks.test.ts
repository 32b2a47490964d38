import { detect } from '#core/detect/detect'
import type { DetectedMark } from '#core/detect/detection'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { drawRaster, radial } from '../draw-raster.ts'

const CENTRE = [160.4, 120.7] as const
const arc = Array.from({ length: 24 }, (_, i) => radial(CENTRE, 10 * i, [78, 104], 2.4, 130))
const marksOf = (strokes: Parameters<typeof drawRaster>[1]): readonly DetectedMark[] => {
  const answer = detect(drawRaster([320, 240], strokes, { noise: 1, seed: 2 }), {}, { sheet: null })
  return isUnmeasurable(answer) ? [] : answer.marks
}

describe('a mark far fainter than the others (simulated)', () => {
  it('is listed as doubtful where it is like them in all else', () => {
    const marks = marksOf([...arc, radial(CENTRE, 240, [78, 104], 2.4, 19)])
    expect(marks).toHaveLength(25)
    expect(marks.find((m) => Math.abs((m.angleDeg ?? 0) - 240) < 0.5)?.confidence).toBeLessThan(0.5)
  })

  it('is none where it leans, is short or goes on as a rule does', () => {
    const [x, y] = [CENTRE[0] - 0.5 * 91, CENTRE[1] + 0.866 * 91]
    const leaning = { from: [x - 13, y + 10] as const, to: [x + 13, y - 10] as const, width: 2.4, dark: 19 }
    for (const other of [leaning, radial(CENTRE, 240, [92, 100], 2.4, 19), radial(CENTRE, 240, [20, 139], 2.4, 19)]) expect(marksOf([...arc, other])).toHaveLength(24)
  })
})
