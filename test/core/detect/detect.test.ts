import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import { overlaySvg } from '#core/report/overlay-svg'
import type { Raster } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster, radial } from './draw-raster.ts'

// All pictures here are simulated.
const found = (raster: Raster, hints: Hints = {}): Detection => {
  const detection = detect(raster, hints, { sheet: null })
  if (isUnmeasurable(detection)) throw new Error(`${detection.what}; ${detection.remedy}`)
  return detection
}

const SIZE = [640, 480] as const
const CENTRE = [322.3, 241.7] as const
const turn = (count: number): DrawnStroke[] => Array.from({ length: count }, (_, k) => radial(CENTRE, (360 * k) / count + 1.3, [150, 190 + 8 * (k % 3)]))

/** rms of angle errors after their common offset, deg. */
const scatter = (detection: Detection, truth: readonly number[]): number => {
  const off = detection.marks.map((m, i) => (m.angleDeg as number) - (truth[i] as number))
  const mean = off.reduce((s, v) => s + v, 0) / off.length
  return Math.sqrt(off.reduce((s, v) => s + (v - mean) ** 2, 0) / off.length)
}

describe('detect, marks round a shaft', () => {
  const detection = found(drawRaster(SIZE, turn(40), { noise: 3 }))

  it('finds each mark once, in order of angle counter-clockwise as seen', () => {
    expect(detection.rig).toBe('pointer')
    expect(detection.marks).toHaveLength(40)
    expect(scatter(detection, Array.from({ length: 40 }, (_, k) => 9 * k + 1.3))).toBeLessThan(0.02)
  })

  it('finds the shaft where the marks aim, and says how a full turn took the perspective out', () => {
    expect(Math.hypot((detection.centrePx?.[0] ?? 0) - CENTRE[0], (detection.centrePx?.[1] ?? 0) - CENTRE[1])).toBeLessThan(0.2)
    expect(detection.rectifiedBy).toBe('turn')
  })

  it('reads what the array holds now, where one array is filled again and again', () => {
    const { grey } = drawRaster(SIZE, turn(40), { noise: 3 })
    found({ width: SIZE[0], height: SIZE[1], grey })
    grey.set(drawRaster(SIZE, turn(36), { noise: 3 }).grey)
    expect(found({ width: SIZE[0], height: SIZE[1], grey })).toEqual(found(drawRaster(SIZE, turn(36), { noise: 3 })))
  })

  it('gives the inner end first', () => {
    for (const { p0, p1 } of detection.marks) expect(Math.hypot(p0[0] - CENTRE[0], p0[1] - CENTRE[1])).toBeLessThan(Math.hypot(p1[0] - CENTRE[0], p1[1] - CENTRE[1]))
  })

  it('leaves squares, a circle and a shadow edge alone', () => {
    const rules = Array.from({ length: 12 }, (_, i): DrawnStroke => ({ from: [0, 20 + 40 * i], to: [639, 22 + 40 * i], width: 1, dark: 22 }))
    const columns = Array.from({ length: 16 }, (_, i): DrawnStroke => ({ from: [15 + 40 * i, 0], to: [15 + 40 * i, 479], width: 1, dark: 22 }))
    const circle = Array.from({ length: 90 }, (_, i): DrawnStroke => {
      const at = (a: number) => [CENTRE[0] + 145 * Math.cos(a), CENTRE[1] - 145 * Math.sin(a)] as const
      return { from: at((i * Math.PI) / 45), to: at(((i + 1) * Math.PI) / 45), width: 1.5, dark: 60 }
    })
    const shaded = (x: number, y: number): number => (x + 0.3 * y < 250 ? 165 : 210)
    const cluttered = found(drawRaster(SIZE, [...rules, ...columns, ...circle, ...turn(40)], { noise: 3, ground: shaded }))
    expect(cluttered.marks).toHaveLength(40)
  })

  it('says so when no more than three strokes show where the shaft is', () => {
    const few = (count: number): string => found(drawRaster(SIZE, turn(40).slice(0, count), { noise: 3 }), { rig: 'pointer' }).doubts.join(' ')
    expect(few(3)).toMatch(/only 3 marks were found/)
    expect(few(4)).not.toMatch(/only/)
  })

  it('leaves out what lies in a region to ignore, and counts against the expected number with the gap named', () => {
    const hinted = found(drawRaster(SIZE, turn(40), { noise: 3 }), { ignorePx: [{ x: 480, y: 190, width: 80, height: 40 }], expectedMarks: 40 })
    expect(hinted.marks.length).toBeLessThan(40)
    expect(hinted.doubts.join(' ')).toMatch(/marks were found where 40 were expected: look between marks/)
  })

  it('reads light ink on a dark ground when told so', () => {
    const dark = drawRaster(SIZE, turn(40), { noise: 3 })
    const light = { ...dark, grey: dark.grey.map((v) => 255 - v) }
    expect(found(light, { ink: 'light' }).marks).toHaveLength(40)
  })

  it('keeps to a radius range: two rings of marks, one asked for', () => {
    const inner = Array.from({ length: 36 }, (_, k) => radial(CENTRE, 10 * k + 4, [60, 90]))
    const raster = drawRaster(SIZE, [...turn(40), ...inner], { noise: 3 })
    expect(found(raster, { radiusRangePx: [55, 100], centrePx: CENTRE }).marks).toHaveLength(36)
  })

  it('turns with the picture: marks keep their angles from one another when the photo is upside down', () => {
    const raster = drawRaster(SIZE, turn(40), { noise: 0 })
    const flipped = { ...raster, grey: raster.grey.slice().reverse() }
    const angles = found(flipped).marks.map((m) => m.angleDeg as number)
    const gaps = angles.slice(1).map((a, i) => a - (angles[i] as number))
    for (const gap of gaps) expect(Math.abs(gap - 9)).toBeLessThan(0.05)
  })

  it('is drawn with doubtful marks in another shape, not only another colour', () => {
    const [first, ...rest] = detection.marks
    if (first === undefined) throw new Error('no marks')
    const svg = overlaySvg({ ...detection, marks: [{ ...first, confidence: 0.1 }, ...rest] })
    expect(svg).toContain('39 marks taken')
    expect(svg).toContain('1 doubtful')
    expect(svg).toMatch(/stroke-dasharray/)
  })

  it('has its key in a corner without marks', () => {
    const keyOf = (shown: Detection): readonly number[] => /<rect x="([\d.]+)" y="([\d.]+)"[^>]*fill="#ffffff"/.exec(overlaySvg(shown))?.slice(1).map(Number) ?? []
    const [left, top] = keyOf({ ...detection, marks: [] }) as [number, number]
    expect(left).toBeLessThan(SIZE[0] / 2)
    expect(top).toBeGreaterThan(SIZE[1] / 2)
    const under = detection.marks.map((mark) => ({ ...mark, p0: [left + 5, top + 5] as const, p1: [left + 9, top + 9] as const }))
    expect(keyOf({ ...detection, marks: under })).not.toEqual([left, top])
  })
})

describe('detect, marks in a row', () => {
  const places = Array.from({ length: 30 }, (_, k) => 40.4 + 18.3 * k + (k % 4))
  const row = places.map((x, k): DrawnStroke => ({ from: [x, 200 + (k % 3)], to: [x, 240 - (k % 2)], width: 3, dark: 120 }))

  it('is told from a dial by itself, and placed along the row', () => {
    const detection = found(drawRaster(SIZE, row, { noise: 3 }))
    expect(detection.rig).toBe('mirror')
    expect(detection.marks).toHaveLength(30)
    detection.marks.forEach((mark, i) => expect(Math.abs((mark.positionPx as number) - ((places[i] as number) - (places[0] as number)))).toBeLessThan(0.15))
  })

  it('takes its scale from two points a known distance apart', () => {
    const detection = found(drawRaster(SIZE, row, { noise: 3 }), { scalePx: { from: [0, 220], to: [500, 220], mm: 100 } })
    expect(detection.marks[29]?.positionMm).toBeCloseTo(((places[29] as number) - (places[0] as number)) / 5, 1)
  })

  it('takes its scale from a printed millimetre ruler beside it', () => {
    const ruler = Array.from({ length: 101 }, (_, k): DrawnStroke => ({ from: [50 + 5 * k, 300], to: [50 + 5 * k, k % 10 === 0 ? 318 : k % 5 === 0 ? 313 : 309], width: 1.4, dark: 110 }))
    const detection = found(drawRaster(SIZE, [...row, ...ruler], { noise: 2 }), { rig: 'mirror' })
    expect(detection.marks).toHaveLength(30)
    expect(detection.pixelsPerMm).toBeCloseTo(5, 1)
  })
})

describe('detect, where nothing can be measured', () => {
  it.each([
    ['an even grey', drawRaster(SIZE, [], { noise: 0 })],
    ['noise', drawRaster(SIZE, [], { noise: 6 })],
    ['one stroke', drawRaster(SIZE, [radial(CENTRE, 20, [100, 150])], { noise: 3 })],
  ])('%s is refused with a cure', (_, raster) => {
    const answer = detect(raster, {}, { sheet: null })
    expect(isUnmeasurable(answer)).toBe(true)
    if (isUnmeasurable(answer)) expect(answer.remedy.length).toBeGreaterThan(10)
  })
})
