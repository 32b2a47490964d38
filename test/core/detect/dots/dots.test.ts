import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import type { Point, Raster } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type DrawnStroke, drawRaster, normal, radial, seededRandom } from '../draw-raster.ts'

// All pictures here are simulated.
const CENTRE: Point = [272.3, 261.7]
const RADIUS = 200
const SIZE = [540, 520] as const

/** A round dot: narrow bands of ink side by side. */
const dot = ([x, y]: Point, diameter: number, dark = 130): DrawnStroke[] => {
  const bands = Math.ceil(diameter)
  return Array.from({ length: bands }, (_, i) => {
    const [aside, width] = [(((i + 0.5) / bands) * 2 - 1) * (diameter / 2), diameter / bands]
    const half = Math.sqrt((diameter / 2) ** 2 - aside ** 2)
    return { from: [x - half, y + aside], to: [x + half, y + aside], width, dark }
  })
}

const placeAt = (bearingDeg: number, radius: number, [x, y]: Point = CENTRE): Point => [x + radius * Math.cos((bearingDeg * Math.PI) / 180), y - radius * Math.sin((bearingDeg * Math.PI) / 180)]

interface Ring {
  readonly bearings: readonly number[]
  /** Radial scatter, px. */
  readonly scatter?: number
  readonly diameter?: number
  readonly seed?: number
}

const dotsAt = ({ bearings, scatter = 2, diameter = 6, seed = 3 }: Ring): DrawnStroke[] => {
  const random = seededRandom(seed)
  return bearings.flatMap((b) => dot(placeAt(b, RADIUS + scatter * normal(random)), diameter))
}

const found = (raster: Raster, hints: Hints = {}): Detection => {
  const answer = detect(raster, hints, { sheet: null })
  if (isUnmeasurable(answer)) throw new Error(`${answer.what}; ${answer.remedy}`)
  return answer
}

/** Steps of a motor whose own pattern repeats 25 times per turn. */
const steps = (count: number, apart: number): number[] => Array.from({ length: count }, (_, k) => 1.3 + apart * k + 0.15 * apart * Math.sin((25 * apart * k * Math.PI) / 180 + 0.4))

const errorsOf = (detection: Detection, truth: readonly number[]): number[] => {
  const off = detection.marks.map((m, i) => (m.angleDeg as number) - (truth[i] as number))
  const mean = off.reduce((s, v) => s + v, 0) / off.length
  return off.map((v) => v - mean)
}

const rms = (values: readonly number[]): number => Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length)

describe('dots at the tip of a pointer', () => {
  const truth = steps(72, 5)

  it('a full turn of them is read as a dial, every one of them, about the shaft', () => {
    const detection = found(drawRaster(SIZE, dotsAt({ bearings: truth }), { noise: 3 }))
    expect(detection.rig).toBe('pointer')
    expect(detection.marks).toHaveLength(72)
    const errors = errorsOf(detection, truth)
    expect(rms(errors)).toBeLessThan(0.03)
    expect(rms(errors)).toBeLessThan(2 * rms(detection.marks.map((m) => m.uDeg as number)))
    expect(Math.hypot((detection.centrePx?.[0] ?? 0) - CENTRE[0], (detection.centrePx?.[1] ?? 0) - CENTRE[1])).toBeLessThan(1)
    expect(detection.rectifiedBy).toBe('turn')
    expect(detection.doubts.join(' ')).toContain('dots')
    expect(detection.marks.every((m) => m.confidence > 0.5)).toBe(true)
  })

  it('each has its inner end first, its diameter, and its order by angle', () => {
    const { marks } = found(drawRaster(SIZE, dotsAt({ bearings: truth }), { noise: 3 }))
    for (const { p0, p1, widthPx } of marks) {
      const [near, far] = [p0, p1].map(([x, y]) => Math.hypot(x - CENTRE[0], y - CENTRE[1])) as [number, number]
      expect(far - near).toBeGreaterThan(4)
      expect(far - near).toBeLessThan(10)
      expect(Math.abs(widthPx - 6)).toBeLessThan(2)
    }
    expect(marks.map((m) => m.angleDeg)).toEqual(marks.map((m) => m.angleDeg as number).sort((a, b) => a - b))
  })

  it('over an arc the centre is as doubtful as it is said to be', () => {
    const arc = steps(32, 3).map((b) => b + 30)
    const normalised = Array.from({ length: 4 }, (_, i) => {
      const answer = found(drawRaster(SIZE, dotsAt({ bearings: arc, scatter: 3, seed: 11 + i }), { noise: 3, seed: i }))
      expect(answer.marks).toHaveLength(32)
      const { centrePx, centreCovariancePx } = answer
      const [xx, , yy] = centreCovariancePx ?? [0, 0, 0]
      expect(rms(errorsOf(answer, arc))).toBeLessThan(2.5 * rms(answer.marks.map((m) => m.uDeg as number)))
      return [((centrePx?.[0] ?? 0) - CENTRE[0]) / Math.sqrt(xx), ((centrePx?.[1] ?? 0) - CENTRE[1]) / Math.sqrt(yy)]
    }).flat()
    expect(rms(normalised)).toBeLessThan(1.3)
  })

  it('a centre that is given counts', () => {
    const arc = steps(30, 3).map((b) => b + 30)
    const detection = found(drawRaster(SIZE, dotsAt({ bearings: arc, scatter: 3 }), { noise: 3 }), { centrePx: CENTRE })
    expect(detection.marks).toHaveLength(30)
    expect(Math.hypot((detection.centrePx?.[0] ?? 0) - CENTRE[0], (detection.centrePx?.[1] ?? 0) - CENTRE[1])).toBeLessThan(4)
  })

  it('figures and letters beside the dots do not count, nor do dots off the circle', () => {
    const zeros = [0, 60, 120, 180, 240, 300].flatMap((b) => {
      const [x, y] = placeAt(b, RADIUS + 26)
      return Array.from({ length: 12 }, (_, i): DrawnStroke => ({ from: placeAt(30 * i, 6, [x, y]), to: placeAt(30 * i + 32, 6, [x, y]), width: 2, dark: 130 }))
    })
    const stray = dot(placeAt(100, RADIUS + 40), 6)
    const detection = found(drawRaster(SIZE, [...dotsAt({ bearings: truth }), ...zeros, ...stray], { noise: 3 }))
    expect(detection.marks).toHaveLength(72)
    expect(detection.refused.map((r) => r.why)).toContain('off the circle of the other dots')
  })

  it('two that touch are told apart, with the doubt that this leaves', () => {
    const near = [...truth, (truth[20] as number) + 1.7].sort((a, b) => a - b)
    const detection = found(drawRaster(SIZE, dotsAt({ bearings: near, scatter: 0 }), { noise: 3 }))
    expect(detection.marks).toHaveLength(73)
    expect(Math.abs(errorsOf(detection, near)[20] as number)).toBeLessThan(0.15)
    expect(detection.marks[20]?.uOwnDeg as number).toBeGreaterThan(2 * (detection.marks[50]?.uOwnDeg as number))
  })

  it('a big one stands for two', () => {
    const big = dot(placeAt(truth[10] as number, RADIUS), 11)
    const detection = found(drawRaster(SIZE, [...dotsAt({ bearings: truth.filter((_, i) => i !== 10) }), ...big], { noise: 3 }))
    expect(detection.marks.map((m) => m.multiplicity).indexOf(2)).toBe(10)
  })

  it('a row of dots stays a strip, a ring of strokes a ring of strokes', () => {
    const row = Array.from({ length: 30 }, (_, n): Point => [40 + 16 * n + 2 * Math.sin(1.7 * n), 300 + 0.05 * n])
    expect(found(drawRaster(SIZE, row.flatMap((p) => dot(p, 7)), { noise: 3 })).rig).toBe('mirror')
    const strokes = found(drawRaster(SIZE, truth.map((b) => radial(CENTRE, b, [175, 215])), { noise: 3 }))
    expect(strokes.marks).toHaveLength(72)
    expect(strokes.doubts.join(' ')).not.toContain('dots')
  })

  it('specks by long strokes that aim at the middle of their circle are pencil’s grain and writing', () => {
    const strokes = truth.filter((_, i) => i % 4 === 0).map((b) => radial(CENTRE, b, [120, 190]))
    expect(found(drawRaster(SIZE, [...strokes, ...dotsAt({ bearings: truth, scatter: 1, diameter: 4 })], { noise: 3 })).marks).toHaveLength(strokes.length)
  })

  it('a person who says it is a strip is not overruled', () => {
    const answer = detect(drawRaster(SIZE, dotsAt({ bearings: truth }), { noise: 3 }), { rig: 'mirror' }, { sheet: null })
    expect(isUnmeasurable(answer) || answer.rig === 'mirror').toBe(true)
  })
})
