import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import type { Point, Raster } from '#core/detect/raster'
import { applyHomography, invertHomography } from '#core/numeric/homography'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { seededRandom } from '../draw-raster.ts'
import { drawStrip, seenAs, unevenPlaces } from './draw-strip.ts'

const found = (raster: Raster, hints: Hints = {}): Detection => {
  const answer = detect(raster, { rig: 'mirror', ...hints }, { sheet: null })
  if (isUnmeasurable(answer)) throw new Error(`${answer.what}: ${answer.remedy}`)
  return answer
}

const SLANTED = seenAs([[0, 0], [160, 0], [160, 60], [0, 60]], [[-20, 60], [1260, 10], [1240, 490], [0, 400]])
const back = invertHomography(SLANTED)
/** Paper between y = 8 and 52 mm, its ends out of view, on a darker wall. */
const strip = (x: number, y: number): number => {
  const [, across] = applyHomography(back, [x, y])
  return across > 8 && across < 52 ? 215 : 120
}
const marks = unevenPlaces(32, 3.6, 3)
const at = (x: number): Point => applyHomography(SLANTED, [x, 30])
const scalePx = { from: at(10), to: at(130), mm: 120 }

const off = (detection: Detection): number[] => {
  const raw = detection.marks.map((m, i) => (m.positionMm as number) - (marks[i] as number))
  const mean = raw.reduce((s, v) => s + v, 0) / raw.length
  return raw.map((v) => v - mean)
}

describe('a strip whose two long edges are in view and whose ends are not', () => {
  const detection = found(drawStrip({ map: SLANTED, marks, untidy: 1, ground: strip }), { scalePx })

  it('takes the perspective from the edges', () => {
    expect(detection.rectifiedBy).toBe('edges')
    expect(detection.marks).toHaveLength(32)
  })

  it('places marks within three times what it says is left open', () => {
    const left = 3 * ((detection.rectificationUDeg as number) * 35 + 0.01)
    expect(Math.max(...off(detection).map(Math.abs))).toBeLessThan(left)
    expect(left).toBeLessThan(0.4)
  })

  it('without edges, says that perspective was not removed and leaves much more open', () => {
    const bare = found(drawStrip({ map: SLANTED, marks, untidy: 1 }), { scalePx })
    expect(bare.rectifiedBy).toBe('none')
    expect(bare.rectificationUDeg).toBeGreaterThan(10 * (detection.rectificationUDeg as number))
    expect(bare.doubts.join(' ')).toContain('perspective was not removed')
    const rms = Math.sqrt(off(bare).reduce((s, v) => s + v * v, 0) / 32)
    expect(rms / 35).toBeLessThan(3 * (bare.rectificationUDeg as number))
  })

  it('without edges, says so of each mark: a bend leaves the middle of the row as open as its ends', () => {
    const bare = found(drawStrip({ map: SLANTED, marks, untidy: 1 }), { scalePx })
    off(bare).forEach((mm, i) => expect(Math.abs(mm)).toBeLessThan(3 * (bare.marks[i]?.uPosition as number)))
  })
})

describe('a strip drawn on as people do', () => {
  const rough = seededRandom(5)
  const grain = Array.from({ length: 400 * 400 }, () => 24 * (rough() - 0.5))
  /** Paper on a wall with a grain of 3 px. */
  const onRoughWall = (x: number, y: number): number => (strip(x, y) > 200 ? 215 : 165 + (grain[(Math.floor(y / 3) % 400) * 400 + (Math.floor(x / 3) % 400)] as number))

  it('finds the edges on a rough wall, and measures strokes that lean by a third where they cross the row', () => {
    const leaning = found(drawStrip({ map: SLANTED, marks, untidy: 1, slant: 0.33, ground: onRoughWall }), { scalePx })
    expect(leaning.rectifiedBy).toBe('edges')
    expect(leaning.marks).toHaveLength(32)
    expect(Math.max(...off(leaning).map(Math.abs))).toBeLessThan(3 * ((leaning.rectificationUDeg as number) * 35 + 0.01))
  })

  it('does not take the paper’s end, with a shadow beside it, for a mark', () => {
    const ended = (x: number, y: number): number => {
      const [along] = applyHomography(back, [x, y])
      return along < 140 ? strip(x, y) : along < 140.8 ? 60 : 160
    }
    const detection = found(drawStrip({ map: SLANTED, marks, untidy: 1, ground: ended }), { scalePx })
    expect(detection.marks).toHaveLength(32)
  })

  it('leaves out what lies over an edge', () => {
    const covered = (x: number, y: number): number => {
      const [along, across] = applyHomography(back, [x, y])
      return along > 95 && along < 120 && across > 45 && across < 60 ? 205 : strip(x, y)
    }
    const bare = found(drawStrip({ map: SLANTED, marks, untidy: 1, ground: strip }), { scalePx })
    const detection = found(drawStrip({ map: SLANTED, marks, untidy: 1, ground: covered }), { scalePx })
    expect(detection.rectifiedBy).toBe('edges')
    detection.marks.forEach((m, i) => expect(Math.abs((m.positionMm as number) - (bare.marks[i]?.positionMm as number))).toBeLessThan(0.05))
  })
})

describe('a strip with something straight along its long edge', () => {
  const seenWith = (ground: (along: number, across: number) => number): Detection =>
    found(drawStrip({ map: SLANTED, marks, untidy: 1, ground: (x, y) => ground(...(applyHomography(back, [x, y]) as [number, number])) }), { scalePx })
  const paper = (across: number, beyond: number): number => (across > 8 && across < 52 ? 215 : beyond)

  it('does not take a ruler’s edge for the strip’s, whose ticks run into a dark line, and says so', () => {
    const covered = seenWith((along, across) => {
      const into = across - 44 - 0.03 * along
      return into > 0 && into < 8 ? (into < 2 ? 110 : 170) : paper(across, 120)
    })
    expect(covered.rectifiedBy).toBe('none')
    expect(covered.doubts.join(' ')).toContain('long edges were not used')
    const rms = Math.sqrt(off(covered).reduce((s, v) => s + v * v, 0) / 32)
    expect(rms / 35).toBeLessThan(3 * (covered.rectificationUDeg as number))
  })

  it('does not take the far edge of a tape beside the strip for the strip’s', () => {
    const beside = (across: number): number => (across > 40 && across < 56 ? 190 : across > 8 && across < 36 ? 215 : 120)
    expect(seenWith((_, across) => beside(across)).rectifiedBy).toBe('none')
  })

  it('takes the edges before a joint between dark bricks', () => {
    expect(seenWith((_, across) => paper(across, across > 57 && across < 58.5 ? 180 : 120)).rectifiedBy).toBe('edges')
  })

  it('takes the edges before a joint between boards, of which one is a little darker', () => {
    expect(seenWith((_, across) => paper(across, across > 57 && across < 58 ? 40 : across > 57 ? 112 : 120)).rectifiedBy).toBe('edges')
  })
})

/** 6 px/mm. */
const SQUARE_ON = seenAs([[0, 0], [200, 0], [200, 60], [0, 60]], [[0, 0], [1200, 0], [1200, 360], [0, 360]])

describe('a strip of which three sides are in view', () => {
  it('is read to where the picture ends, however long it is', () => {
    const ground = (x: number, y: number): number => (x > 30 && y > 120 && y < 240 ? 215 : 120)
    const detection = found(drawStrip({ size: [1200, 360], map: SQUARE_ON, marks: unevenPlaces(40, 4, 3), ground }))
    expect(detection.rectifiedBy).toBe('paper')
    expect(detection.doubts.join(' ')).toContain('only three sides of the paper are in view')
    expect(detection.marks).toHaveLength(40)
  })
})
