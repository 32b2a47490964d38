import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import type { Point, Raster } from '#core/detect/raster'
import { evenTicks } from '#core/detect/strip/even-ticks'
import { tickLengths } from '#core/detect/strip/tick-lengths'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { seededRandom } from '../draw-raster.ts'
import { drawStrip, millimetres, seenAs, unevenPlaces } from './draw-strip.ts'

const found = (raster: Raster, hints: Hints = {}): Detection => {
  const answer = detect(raster, { rig: 'mirror', ...hints }, { sheet: null })
  if (isUnmeasurable(answer)) throw new Error(`${answer.what}: ${answer.remedy}`)
  return answer
}

const WALL: readonly Point[] = [[0, 0], [160, 0], [160, 60], [0, 60]]
/** Seen from the right and a little from above: 6 px per mm on the left, 8 on the right. */
const TILTED = seenAs(WALL, [[60, 80], [1160, 20], [1150, 480], [70, 420]])

/** Largest departure of the positions from the truth after one common shift, mm; marks numbered from the left. */
const worst = (detection: Detection, truth: readonly number[]): number => {
  expect(detection.marks).toHaveLength(truth.length)
  const off = detection.marks.map((m, i) => (m.positionMm as number) - (truth[i] as number))
  const mean = off.reduce((s, v) => s + v, 0) / off.length
  return Math.max(...off.map((v) => Math.abs(v - mean)))
}

describe('a strip with a ruler beside the marks, seen at a slant', () => {
  const marks = unevenPlaces(36, 3.6)
  const ruler = { step: 1, count: 155, at: 44, side: 1, length: millimetres } as const

  it('takes perspective and scale from the ruler: places to a fiftieth of a mm', () => {
    const detection = found(drawStrip({ map: TILTED, marks, ruler }))
    expect(detection.rectifiedBy).toBe('ruler')
    expect(worst(detection, marks)).toBeLessThan(0.02)
    expect(detection.strip?.scale).toContain('each 1 mm')
  })

  it('does so with the ruler above the marks, its ticks pointing at them', () => {
    const detection = found(drawStrip({ map: TILTED, marks, ruler: { ...ruler, at: 10, side: 1 } }))
    expect(detection.rectifiedBy).toBe('ruler')
    expect(worst(detection, marks)).toBeLessThan(0.02)
  })

  it('reads the ticks of a ruler by itself, not the letters on it, and says that it may be a ruler', () => {
    const detection = found(drawStrip({ map: TILTED, marks: [], letters: 'MUSEUM STORE ROOM HOUSE MUSEUM', ruler: { ...ruler, at: 10 } }))
    expect(detection.marks.length).toBeGreaterThan(0.95 * ruler.count)
    expect(detection.doubts.join()).toContain('if they are a ruler')
  })

  it('follows a ruler whose short ticks are too short to be seen at a glance, and counts them', () => {
    const short = { ...ruler, length: (n: number): number => (n % 10 === 0 ? 6 : n % 5 === 0 ? 4.5 : 1) }
    const detection = found(drawStrip({ map: TILTED, marks, ruler: short }))
    expect(worst(detection, marks)).toBeLessThan(0.03)
    expect(detection.strip?.scale).toContain('each 1 mm')
  })

  it('does so with marks that stand closer than the ruler’s ticks', () => {
    const close = unevenPlaces(60, 2.2, 4)
    const detection = found(drawStrip({ map: TILTED, marks: close, ruler: { ...ruler, step: 3, count: 50 } }), { tickMm: 3 })
    expect(detection.rectifiedBy).toBe('ruler')
    expect(worst(detection, close)).toBeLessThan(0.03)
  })

  it('counts that a ruler’s face may stand 1 mm above the paper: some 145 mm from the lens, its ticks look 1 / 144 too far apart', () => {
    const detection = found(drawStrip({ map: TILTED, marks, ruler: { ...ruler, step: 145 / 144 } }))
    const [first, last] = [detection.marks[0]?.positionMm as number, detection.marks.at(-1)?.positionMm as number]
    const off = (last - first) / ((marks.at(-1) as number) - (marks[0] as number)) - 1
    expect(off).toBeCloseTo(-1 / 145, 3)
    expect(detection.rectificationUDeg).toBeGreaterThan(Math.abs(off) / 2)
    expect(detection.rectificationUDeg).toBeLessThan(Math.abs(off))
  })

  it('reads it upside down from the other end, growing to the right all the same', () => {
    const turned = seenAs(WALL, [[1160, 420], [60, 480], [70, 20], [1150, 80]])
    const detection = found(drawStrip({ map: turned, marks, ruler }))
    expect(worst(detection, [...marks].reverse().map((x) => -x))).toBeLessThan(0.02)
    expect(detection.strip?.zero).toContain('to the right')
  })

  it('reads it upright, growing downwards', () => {
    const upright = seenAs(WALL, [[420, 60], [480, 1160], [20, 1150], [80, 70]])
    const detection = found(drawStrip({ size: [500, 1200], map: upright, marks, ruler }))
    expect(worst(detection, marks)).toBeLessThan(0.02)
    expect(detection.strip?.zero).toContain('downwards')
  })

  it('says what it does not know where the ticks are all alike, and is told with the tick hint', () => {
    const raster = drawStrip({ map: TILTED, marks, ruler: { ...ruler, step: 1.5, count: 100, length: () => 3 } })
    const open = found(raster)
    expect(open.marks[0]?.positionMm).toBeNull()
    expect(open.rectifiedBy).toBe('ruler')
    expect(open.doubts.join(' ')).toContain('--tick')
    expect(worst(found(raster, { tickMm: 1.5 }), marks)).toBeLessThan(0.03)
  })

  it('reads sixteenths of an inch', () => {
    const sixteenth = (n: number): number => (n % 16 === 0 ? 7 : n % 8 === 0 ? 5.5 : n % 4 === 0 ? 4.2 : n % 2 === 0 ? 3.2 : 2.2)
    const detection = found(drawStrip({ map: TILTED, marks, ruler: { ...ruler, step: 25.4 / 16, count: 96, length: sixteenth } }))
    expect(detection.strip?.scale).toContain('inch')
    expect(worst(detection, marks)).toBeLessThan(0.03)
  })

  it('takes two points in preference to the ruler’s unit', () => {
    const raster = drawStrip({ map: TILTED, marks, ruler: { ...ruler, length: () => 3 } })
    const at = (x: number): Point => { const [a, b, c, d, e, f, g, h, i] = TILTED; const w = g * x + h * 30 + i; return [(a * x + b * 30 + c) / w, (d * x + e * 30 + f) / w] }
    expect(worst(found(raster, { scalePx: { from: at(10), to: at(140), mm: 130 } }), marks)).toBeLessThan(0.03)
  })
})

describe('which row is the trace', () => {
  const even = Array.from({ length: 40 }, (_, n) => 12 + 3 * n)

  it('one row alone is the trace, however even; that it could be a ruler is said', () => {
    const detection = found(drawStrip({ map: TILTED, marks: [], ruler: { step: 1, count: 150, at: 30, side: 1, length: millimetres } }))
    expect(detection.marks.length).toBeGreaterThan(140)
    expect(detection.doubts.join(' ')).toMatch(/--ignore \d+,\d+,\d+,\d+/)
  })

  it('strokes that a row picks out of writing are no trace: what is even is it', () => {
    const detection = found(drawStrip({ map: TILTED, marks: [], writing: 160, ruler: { step: 1, count: 150, at: 44, side: 1, length: millimetres } }))
    expect(detection.marks.length).toBeGreaterThan(140)
    expect(detection.doubts.join(' ')).toMatch(/--ignore \d+,\d+,\d+,\d+/)
  })

  it('ticks are found where all about them is left out and no paper is bare', () => {
    const raster = drawStrip({ map: TILTED, marks: [], ruler: { step: 1, count: 150, at: 30, side: 1, length: () => 6 } })
    const ignorePx = [{ x: 0, y: 0, width: 1200, height: 254 }, { x: 0, y: 290, width: 1200, height: 210 }]
    expect(found(raster, { ignorePx }).marks.length).toBeGreaterThan(140)
  })

  it('even marks drawn by hand are not taken for the ruler', () => {
    const detection = found(drawStrip({ map: TILTED, marks: even, ruler: { step: 1, count: 150, at: 44, side: 1, length: millimetres } }))
    expect(detection.marks).toHaveLength(40)
    expect(detection.rectifiedBy).toBe('ruler')
  })

  it('strokes whose ends lie under a clear ruler’s ticks are the trace', () => {
    const few = unevenPlaces(9, 14)
    const detection = found(drawStrip({ map: TILTED, marks: few, ruler: { step: 1, count: 150, at: 31.5, side: 1, length: millimetres } }))
    expect(detection.rectifiedBy).toBe('ruler')
    // A tick 0.25 mm wide along 2.5 of a stroke's 9 to 11 mm pulls its middle by no more than 0.07 mm.
    expect(worst(detection, few)).toBeLessThan(0.07)
  })

  it('marks even to a few per cent are no ruler beside one whose ticks are all alike', () => {
    const good = even.map((x, n) => x + 0.15 * Math.sin(7 * n * n))
    const detection = found(drawStrip({ map: TILTED, marks: good, ruler: { step: 2.5, count: 58, at: 44, side: 1, length: () => 3 } }))
    expect(detection.marks).toHaveLength(good.length)
    expect(detection.doubts.join(' ')).not.toMatch(/two rows/)
  })

  it('rules along the paper, more of them and longer than the marks, are neither marks nor a ruler', () => {
    const detection = detect(drawStrip({ map: TILTED, marks: even, rules: Array.from({ length: 24 }, (_, n) => 2 + 2.5 * n) }), {}, { sheet: null })
    expect(isUnmeasurable(detection) ? detection.what : detection.marks.length).toBe(even.length)
  })

  it('two rows as even and as tidy as each other are a doubt that names the cure', () => {
    const detection = found(drawStrip({ map: TILTED, marks: even, untidy: 0, ruler: { step: 3, count: 50, at: 44, side: 1, length: () => 3 } }))
    expect(detection.doubts.join(' ')).toMatch(/two rows.*--ignore/)
  })
})

describe('even ticks', () => {
  it('are numbered through perspective and gaps', () => {
    const numbers = Array.from({ length: 80 }, (_, n) => n).filter((n) => n % 7 !== 3)
    const places = numbers.map((n) => (900 * n) / (100 + 0.5 * n))
    expect(evenTicks(places)?.index).toEqual(numbers)
  })

  it('uneven places are refused or left out', () => {
    const grid = evenTicks(unevenPlaces(60, 5, 9))
    expect(grid === null || grid.filled < 0.6 || grid.spread > 0.08).toBe(true)
  })
})

describe('what a tick is, by how lengths repeat', () => {
  const index = Array.from({ length: 70 }, (_, n) => n + 3)
  it.each([
    ['every fifth and tenth longer', (n: number) => millimetres(n), 1],
    ['every second longer too', (n: number) => (n % 20 === 0 ? 6 : n % 10 === 0 ? 5 : n % 2 === 0 ? 3.5 : 2), 0.5],
    ['by halves down to sixteenths', (n: number) => (n % 16 === 0 ? 7 : n % 8 === 0 ? 5.5 : n % 4 === 0 ? 4.2 : n % 2 === 0 ? 3.2 : 2.2), 25.4 / 16],
    ['all alike', () => 3, null],
    ['every fifth only: one or two millimetres', (n: number) => (n % 5 === 0 ? 5 : 3), null],
  ])('%s', (_, length, tickMm) => {
    expect(tickLengths(index.map((n) => length(n) * (1 + 0.01 * Math.sin(9 * n))), index).tickMm).toBe(tickMm)
  })

  it('the same where they grow along the ruler, as a tilt that is ill known makes them', () => {
    expect(tickLengths(index.map((n) => millimetres(n) * (1 + 0.01 * n)), index).tickMm).toBe(1)
  })

  it('the same where two hundred are seen badly, to a quarter of a tick', () => {
    const random = seededRandom(4)
    const many = Array.from({ length: 200 }, (_, n) => n)
    expect(tickLengths(many.map((n) => millimetres(n) + 1.5 * (random() - 0.5)), many).tickMm).toBe(1)
  })

  it('the lengths of many strokes drawn by hand repeat in no way', () => {
    const many = Array.from({ length: 200 }, (_, n) => n)
    const told = Array.from({ length: 50 }, (_, seed) => seededRandom(seed + 1)).filter((random) => tickLengths(many.map(() => 3 + random()), many).tickMm !== null)
    expect(told).toHaveLength(0)
  })

  it('the lengths of a few strokes drawn by hand repeat in no way', () => {
    const few = index.slice(0, 26)
    const told = Array.from({ length: 200 }, (_, seed) => seededRandom(seed + 1)).filter((random) => tickLengths(few.map(() => 3 + random()), few).tickMm !== null)
    expect(told).toHaveLength(0)
  })
})
