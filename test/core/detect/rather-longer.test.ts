import type { Detection, Hints } from '#core/detect/detection'
import { ratherLonger } from '#core/detect/rather-longer'
import type { Scene } from '#core/detect/scene'
import { describe, expect, it } from 'vitest'

const marked = (count: number, lengthPx: number, spanDeg = 360): Detection =>
  ({ rig: 'pointer', marks: Array.from({ length: count }, (_, i) => ({ angleDeg: (spanDeg * i) / count, p0: [9 * i, 0], p1: [9 * i, lengthPx] })), doubts: ['as it was'] }) as unknown as Detection
const lines = [15, 18, 14, 60, 48].map((lengthPx) => ({ lengthPx })) as unknown as Scene['lines']
const scene = (hints: Hints): Scene => ({ hints, lines, short: lines.slice(0, 4) }) as unknown as Scene

// A block of print in a corner gave 105 marks, and none of 24 strokes three times as long.
describe('marks picked from many lines of their kind', () => {
  const seen = marked(105, 16)
  const doubted = { ...seen, doubts: ['only 91 of 232'] }

  it('give way to longer strokes, of which the shorter lines are no part', () => {
    const asked: Scene[] = []
    const found = ratherLonger(seen, doubted, scene({}), (rest) => { asked.push(rest); return marked(24, 60) })
    expect(asked.map((rest) => [rest.lines, rest.short].map((some) => some.map(({ lengthPx }) => lengthPx)))).toEqual([[[60, 48], [60]]])
    expect(found).toMatchObject({ marks: marked(24, 60).marks, doubts: [expect.stringContaining('--ignore'), 'as it was'] })
  })

  // A desk with a keyboard gave 14 such lines over 60°.
  it.each([['where these are few', {}, 11, 360], ['where these stand to one side', {}, 24, 170], ['where a person said where they are', { centrePx: [9, 9] }, 24, 360]] as const)('stay doubted %s', (_, hints, count, spanDeg) => {
    expect(ratherLonger(seen, doubted, scene(hints), () => marked(count, 60, spanDeg))).toBe(doubted)
  })
})
