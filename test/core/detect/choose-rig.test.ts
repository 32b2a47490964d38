import { chooseRig } from '#core/detect/choose-rig'
import { findCandidates } from '#core/detect/line/find-candidates'
import type { Point } from '#core/detect/raster'
import { findSurface } from '#core/detect/find-surface'
import { voteCentre } from '#core/detect/dial/vote-centre'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster, radial } from './draw-raster.ts'

const SIZE = [640, 480] as const

const rigOf = (strokes: readonly DrawnStroke[]) => {
  const raster = drawRaster(SIZE, strokes, { noise: 3 })
  const candidates = findCandidates(raster)
  return chooseRig(raster, { candidates, vote: voteCentre(candidates, ...SIZE) }, findSurface(raster, {}, null), {})
}

const dial = Array.from({ length: 24 }, (_, i) => radial([220, 240], 15 * i + 2, [120, 160]))
const ticks = Array.from({ length: 60 }, (_, i): DrawnStroke => ({ from: [500, 10 + 7.6 * i], to: [i % 5 === 0 ? 525 : 515, 10 + 7.6 * i], width: 1.5, dark: 130 }))

describe('round a shaft or in a row (simulated)', () => {
  it('marks in a row stand in a row', () => {
    expect(rigOf(ticks)).toBe('mirror')
  })

  it('marks round a shaft do so, though a ruler beside them has more ticks', () => {
    expect(rigOf([...dial, ...ticks])).toBe('pointer')
  })

  it('the strokes of letters are no row, though more than the marks stand in one', () => {
    const leaning = Array.from({ length: 9 }, (_, i) => {
      const { to: [x, y], ...mark } = radial([220, 200], 195 + 11 * i, [120, 190])
      return { ...mark, to: [x + (i % 2 === 0 ? -2 : 2), y] as const }
    })
    const letters = Array.from({ length: 26 }, (_, i): DrawnStroke => ({ from: [60 + 20 * i, 440], to: [66 + 20 * i, 460], width: 2, dark: 130 }))
    expect(rigOf([...leaning, ...letters])).toBe('pointer')
  })

  it('strokes that aim at a place far outside the picture are parallel ones seen aslant; a shaft just outside it has a wider fan', () => {
    const fan = (centre: Point, apartDeg: number, radius: number) => Array.from({ length: 14 }, (_, i) => radial(centre, 270 + (i - 6.5) * apartDeg, [radius - 25, radius + 25 + (i % 3) * 4], 2.4))
    expect(rigOf(fan([320, -5000], 0.45, 5240))).toBe('mirror')
    expect(rigOf(fan([320, -260], 4, 480))).toBe('pointer')
  })

  it('the rules of the paper are no row of marks', () => {
    const rules = Array.from({ length: 14 }, (_, i): DrawnStroke => ({ from: [-10, 20 + 33 * i], to: [650, 26 + 33 * i], width: 2, dark: 40 }))
    expect(rigOf([...dial.slice(0, 7), ...rules])).toBe('pointer')
  })

  it('holes along the edge of a squared page do not stand for a faint dial, though a cable over the page is darker than all else together', () => {
    const arc = Array.from({ length: 40 }, (_, i) => radial([220, 240], 150 + 2.5 * i, [110, 165], 2, 34))
    const squares = Array.from({ length: 20 }, (_, i): DrawnStroke[] => [{ from: [-10, 24 * i], to: [650, 24 * i + 5], width: 1, dark: 12 }, { from: [33 * i, -10], to: [33 * i - 5, 490], width: 1, dark: 12 }]).flat()
    const holes = Array.from({ length: 14 }, (_, i): DrawnStroke => ({ from: [560, 20 + 32 * i], to: [567, 20 + 32 * i], width: 7, dark: 180 }))
    const cable: DrawnStroke = { from: [440, 30], to: [480, 460], width: 8, dark: 190 }
    expect(rigOf([...arc, ...squares, ...holes, cable])).toBe('pointer')
  })
})
