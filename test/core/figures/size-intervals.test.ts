import { describe, expect, it } from 'vitest'
import { incrementsOf } from '#core/figures/increments'
import { errorSize, positionErrors } from '#core/figures/position-errors'
import { sizeIntervals, type SizeIntervals } from '#core/figures/size-intervals'
import { normal, seededRandom } from '#core/numeric/seeded-random'

const microstepDeg = 1.875

const intervalsOf = (anglesDeg: readonly number[], u: number, uFreedom = Number.POSITIVE_INFINITY): SizeIntervals => {
  const incrementsDeg = incrementsOf(anglesDeg)
  return sizeIntervals({ errorsDeg: positionErrors(anglesDeg, microstepDeg), uDeg: anglesDeg.map(() => u), incrementsDeg, incrementUDeg: incrementsDeg.map(() => Math.SQRT2 * u), microstepDeg, commonUDeg: 0, coverageFactor: 2, uFreedom, marks: incrementsDeg.length })
}

/** Rests with a wave in every electrical cycle of 16 commands. */
const rests = (commands: number, waveDeg: number): number[] => Array.from({ length: commands + 1 }, (_, k) => microstepDeg * k + waveDeg * Math.sin((Math.PI / 8) * k))

describe('intervals of figures picked from many marks', () => {
  it('with exact marks are the figures themselves', () => {
    const anglesDeg = rests(32, 0.5)
    const size = errorSize(positionErrors(anglesDeg, microstepDeg))
    const found = intervalsOf(anglesDeg, 0)
    for (const [range, value] of [[found.peakDeg, size.peakDeg], [found.peakToPeakDeg, size.peakToPeakDeg], [found.rmsDeg, size.rmsDeg]] as const)
      for (const end of range) expect(end).toBeCloseTo(value, 12)
  })

  it('reach up by the U of the marks that make the figure, down by that of the largest of as many errors', () => {
    // Two marks: 2√2u up; down by the 1 − 0.025/(32·31) quantile of a normal distribution, 4.0537 (CALC, scipy), times √2u.
    const { peakToPeakDeg } = intervalsOf(rests(32, 0.5), 0.1)
    expect(peakToPeakDeg[1]).toBeCloseTo(1 + 2 * Math.SQRT2 * 0.1, 9)
    expect(peakToPeakDeg[0]).toBeCloseTo(1 - 4.0537 * Math.SQRT2 * 0.1, 3)
  })

  it('scale with the angles', () => {
    const once = intervalsOf(rests(32, 0.5), 0.1).peakDeg
    const tenth = sizeIntervals({ errorsDeg: positionErrors(rests(32, 0.5), microstepDeg).map((e) => e / 10), uDeg: rests(32, 0).map(() => 0.01), incrementsDeg: [0.1], incrementUDeg: [0.1], microstepDeg: microstepDeg / 10, commonUDeg: 0, coverageFactor: 2, uFreedom: Number.POSITIVE_INFINITY, marks: 32 }).peakDeg
    expect(tenth[0]).toBeCloseTo(once[0] / 10, 12)
    expect(tenth[1]).toBeCloseTo(once[1] / 10, 12)
  })

  it('are wider where u was told from few repeats, and never below zero', () => {
    const sure = intervalsOf(rests(32, 0.5), 0.1)
    const unsure = intervalsOf(rests(32, 0.5), 0.1, 8)
    expect(unsure.peakDeg[0]).toBeLessThan(sure.peakDeg[0])
    expect(intervalsOf(rests(32, 0), 0.1).peakToPeakDeg[0]).toBe(0)
  })

  // Figures ± U held an even motor's truth in none of 200 traces. 400 traces: 95 % less three standard errors is 91.7 %.
  for (const [name, waveDeg, commands] of [['an even motor', 0, 192], ['a wave of a third of a microstep', 0.6, 192], ['one cycle', 0.6, 16]] as const)
    it(`hold the truth of ${name} in 95 of 100 simulated traces`, () => {
      const truth = rests(commands, waveDeg)
      const errors = positionErrors(truth, microstepDeg)
      const { peakDeg, peakToPeakDeg, rmsDeg } = errorSize(errors)
      const increments = incrementsOf(truth)
      const wanted = { peakDeg, peakToPeakDeg, rmsDeg, largestIncrementDeg: Math.max(...increments), incrementErrorMaxMicrosteps: Math.max(...increments.map((g) => Math.abs(g / microstepDeg - 1))) }
      const random = seededRandom(17)
      const held = Object.fromEntries(Object.keys(wanted).map((key) => [key, 0])) as Record<keyof typeof wanted, number>
      for (let trial = 0; trial < 400; trial++) {
        const found = intervalsOf(truth.map((angle) => angle + 0.2 * normal(random)), 0.2)
        for (const key of Object.keys(wanted) as (keyof typeof wanted)[]) if (found[key][0] <= wanted[key] + 1e-9 && wanted[key] <= found[key][1]) held[key] += 1
      }
      for (const key of Object.keys(wanted) as (keyof typeof wanted)[]) expect(held[key], key).toBeGreaterThanOrEqual(0.917 * 400)
    })
})
