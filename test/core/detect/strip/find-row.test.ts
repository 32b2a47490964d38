import { describe, expect, it } from 'vitest'
import { photoPlane } from '#core/detect/plane-map'
import { findRow } from '#core/detect/strip/find-row'
import { seededRandom } from '../draw-raster.ts'
import { lineBetween as line } from '../line/line-between.ts'

describe('thirteen strokes of 100 px below each other, among 60 upright bits of 10 px that faint rules were seen by', () => {
  const random = seededRandom(4)
  const strokes = Array.from({ length: 13 }, (_, i) => line([400, 200 + 50 * i], [500, 203 + 50 * i]))
  const bits = Array.from({ length: 60 }, () => [200 + 500 * random(), 150 + 700 * random()] as const).map(([x, y]) => line([x, y], [x + 0.4, y + 10]))

  it('form the row, which runs downwards', () => {
    const row = findRow([...bits, ...strokes], photoPlane, 0.5)
    expect(row?.along[1]).toBeGreaterThan(0.99)
    expect(row?.rungs.map((r) => r.candidate)).toEqual(strokes)
  })
})
