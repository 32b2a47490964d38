import { centreDoubts } from '#core/detect/bearing-doubts'
import { centreFromStrokes, type StrokeLine } from '#core/detect/centre/centre-from-strokes'
import { seededRandom } from '#core/numeric/seeded-random'
import { describe, expect, it } from 'vitest'

const DEG = Math.PI / 180

/** Strokes at 80 about a centre, over a part of a turn, each leaning as a hand does (simulated). */
const strokes = ({ count, fromDeg, toDeg, lean }: { readonly count: number; readonly fromDeg: number; readonly toDeg: number; readonly lean: (i: number) => number }, [x, y] = [0, 0] as readonly [number, number]): StrokeLine[] =>
  Array.from({ length: count }, (_, i) => {
    const a = (fromDeg + ((toDeg - fromDeg) * i) / (count - 1)) * DEG
    return { middle: [x + 80 * Math.cos(a), y + 80 * Math.sin(a)], along: [Math.cos(a + lean(i)), Math.sin(a + lean(i))], length: 10, uAlong: 0 }
  })

const normalOf = (seed: number): (() => number) => {
  const random = seededRandom(seed)
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}

const offBy = (centre: readonly [number, number], [xx, xy, yy]: readonly [number, number, number]): number => (yy * centre[0] ** 2 - 2 * xy * centre[0] * centre[1] + xx * centre[1] ** 2) / (xx * yy - xy * xy)

describe('where the lines of strokes meet', () => {
  it('is the point that all aim at, in whatever sense each was drawn', () => {
    const lines = strokes({ count: 12, fromDeg: 20, toDeg: 110, lean: () => 0 }, [3, -7]).map((line, i) => (i % 2 === 0 ? line : { ...line, along: [-line.along[0], -line.along[1]] as const }))
    const found = centreFromStrokes(lines, [0, 0])
    expect(found?.centre[0]).toBeCloseTo(3, 6)
    expect(found?.centre[1]).toBeCloseTo(-7, 6)
  })

  // Leans of standard deviation σ at radius R: the variance of the centre across the middle bearing is (σR)²/Σcos², along it (σR)²/Σsin² (least squares by hand).
  it.each([[9, 90], [40, 90], [40, 180]])('over part of a turn has an honest covariance: %i strokes over %i°', (count, span) => {
    const squares = Array.from({ length: 150 }, (_, seed) => {
      const normal = normalOf(seed + 1)
      // Half the scatter of its leans is what a hand is taken to lean by habit.
      const habit = 0.25 * DEG * normal()
      const found = centreFromStrokes(strokes({ count, fromDeg: -span / 2, toDeg: span / 2, lean: () => habit + 0.5 * DEG * normal() }), [1, 1])
      return found === null ? Number.NaN : offBy(found.centre, found.covariance) / 2
    })
    const spread = Math.sqrt(squares.reduce((sum, v) => sum + v, 0) / squares.length)
    // 150 draws of two squares know it to 6 %; few strokes are believed less, as they hardly know their own scatter.
    expect(spread).toBeGreaterThan(0.75)
    expect(spread).toBeLessThan(1.2)
  })

  // A hand that is moved on, or paper that is turned: leans alike from stroke to stroke, each keeping a share of the last one's.
  it.each([[60, 90, 0.5], [60, 90, 0.8], [60, 180, 0.8]])('has an honest covariance for leans that wander: %i strokes over %i°, each like the last by %d', (count, span, like) => {
    const squares = Array.from({ length: 150 }, (_, seed) => {
      const normal = normalOf(seed + 1)
      let lean = normal()
      const next = (): number => (lean = like * lean + Math.sqrt(1 - like * like) * normal())
      const found = centreFromStrokes(strokes({ count, fromDeg: -span / 2, toDeg: span / 2, lean: () => 0.8 * DEG * next() }), [1, 1])
      return found === null ? Number.NaN : offBy(found.centre, found.covariance) / 2
    })
    // Were each lean its own, the spread would be 1.4 to 2.
    expect(Math.sqrt(squares.reduce((sum, v) => sum + v, 0) / squares.length)).toBeLessThan(1.3)
  })

  // Lines that touch a circle about the shaft, where the arc is too short to show it: what that leaves in the bearings is a part of what is said.
  it.each([[60, 1], [120, 1], [120, 2]])('covers what a pen beside the pointer’s middle line does over %i°: %d mm', (span, missesMm) => {
    const squares = Array.from({ length: 150 }, (_, seed) => {
      const normal = normalOf(seed + 1)
      const lean = Math.asin((missesMm * normal()) / 80)
      const lines = strokes({ count: 30, fromDeg: -span / 2, toDeg: span / 2, lean: () => lean + 0.5 * DEG * normal() })
      const found = centreFromStrokes(lines, [1, 1])
      if (found === null) return Number.NaN
      const places = lines.map(({ middle }) => middle)
      const turns = places.map(([x, y]) => Math.atan2(y - found.centre[1], x - found.centre[0]) - Math.atan2(y, x))
      const common = turns.reduce((sum, v) => sum + v, 0) / turns.length
      const said = centreDoubts(places, found.centre, found.covariance)
      return turns.reduce((sum, v, i) => sum + ((v - common) / (said[i] as number)) ** 2, 0) / turns.length
    })
    expect(Math.sqrt(squares.reduce((sum, v) => sum + v, 0) / squares.length)).toBeLessThan(1.3)
  })

  it('comes within 10 % of least squares’ standard deviation along the middle bearing', () => {
    const errors = Array.from({ length: 150 }, (_, seed) => {
      const normal = normalOf(seed + 1)
      return centreFromStrokes(strokes({ count: 40, fromDeg: -45, toDeg: 45, lean: () => 0.5 * DEG * normal() }), [1, 1])?.centre[0] ?? Number.NaN
    })
    const sines = Array.from({ length: 40 }, (_, i) => Math.sin((-45 + (90 * i) / 39) * DEG) ** 2).reduce((sum, v) => sum + v, 0)
    const rms = Math.sqrt(errors.reduce((sum, v) => sum + v * v, 0) / errors.length)
    expect(rms / ((0.5 * DEG * 80) / Math.sqrt(sines))).toBeLessThan(1.1)
  })

  // A pen along the edge of a pointer 6 mm wide misses the shaft by 3 mm: all lines touch a circle of 3 mm about it.
  it('is the middle of the circle that lines touch when all lean one way beyond doubt', () => {
    const normal = normalOf(5)
    const lean = Math.asin(3 / 80)
    const found = centreFromStrokes(strokes({ count: 40, fromDeg: -60, toDeg: 60, lean: () => lean + 0.1 * DEG * normal() }), [1, 1])
    expect(Math.hypot(...(found?.centre ?? [9, 9]))).toBeLessThan(0.6)
  })

  // Over 30° a centre beside the marks explains most leans of a hand that leans by 1.5° at random (simulated).
  it('stays near the shaft over a short arc of strokes that lean at random', () => {
    const off = Array.from({ length: 40 }, (_, seed) => {
      const normal = normalOf(seed + 1)
      return Math.hypot(...(centreFromStrokes(strokes({ count: 24, fromDeg: -15, toDeg: 15, lean: () => 1.5 * DEG * normal() }), [1, 1])?.centre ?? [80, 0]))
    })
    expect(Math.max(...off)).toBeLessThan(25)
  })

  it('is not moved by a few strokes that are none', () => {
    const normal = normalOf(6)
    const found = centreFromStrokes(strokes({ count: 40, fromDeg: -60, toDeg: 60, lean: (i) => (i % 13 === 5 ? 6 * DEG : 0.2 * DEG * normal()) }), [1, 1])
    expect(Math.hypot(...(found?.centre ?? [9, 9]))).toBeLessThan(0.3)
  })

  it('is unknown for two lines and for parallel ones', () => {
    expect(centreFromStrokes(strokes({ count: 2, fromDeg: 0, toDeg: 40, lean: () => 0 }), [0, 0])).toBeNull()
    expect(centreFromStrokes([0, 1, 2, 3].map((y) => ({ middle: [50, y], along: [1, 0], length: 10, uAlong: 0 })), [0, 0])).toBeNull()
  })
})
