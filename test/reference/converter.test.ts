import { describe, expect, it } from 'vitest'
import { effectiveCount } from '#core/figures/effective-microsteps'
import { incrementsOf } from '#core/figures/increments'
import { motionsOf } from '#core/figures/motion'
import { positionErrors } from '#core/figures/position-errors'

// Hits per code of a linear histogram test (textbook exercise, 16 codes, end codes dropped); a code's width is what a command's
// increment is here (IEEE Std 1241 terms). Differential and integral nonlinearity computed from the hits by hand rules.
const hits = [5, 5, 7, 8, 7, 9, 5, 6, 3, 6, 7, 9, 6, 5]
const width = 88 / 14
let edge = 0
const transitions = [0, ...hits.map((count) => (edge += count))]

describe('histogram test of a 16-code converter, read as rests', () => {
  it('increment errors are the differential nonlinearity', () => {
    const dnl = [-0.204545, -0.204545, 0.113636, 0.272727, 0.113636, 0.431818, -0.204545, -0.045455, -0.522727, -0.045455, 0.113636, 0.431818, -0.045455, -0.204545]
    incrementsOf(transitions).forEach((g, i) => expect(g / width - 1).toBeCloseTo(dnl[i] ?? 0, 5))
  })
  it('position errors, set to zero at the start, are the end-point integral nonlinearity', () => {
    const inl = [0, -0.2045, -0.4091, -0.2955, -0.0227, 0.0909, 0.5227, 0.3182, 0.2727, -0.25, -0.2955, -0.1818, 0.25, 0.2045, 0]
    const errors = positionErrors(transitions, width)
    errors.forEach((e, k) => expect((e - (errors[0] ?? 0)) / width).toBeCloseTo(inl[k] ?? 0, 4))
  })
  it('no code is missing: no increment merged or reversed', () => {
    expect(motionsOf(incrementsOf(transitions), hits.map(() => 0), width).every((motion) => motion === 'moved')).toBe(true)
  })
})

// q/√12 is the quantisation noise of a step q: a perfect quantiser of M levels per full step counts M (ENOB in steps).
it('a perfect quantiser of M levels counts M: σ = (α/M)/√12 less the nominal’s own', () => {
  for (const levels of [1, 2, 5, 8]) {
    const [microsteps, fullStep] = [16, 1.8]
    const nominal = fullStep / microsteps
    const variance = ((fullStep / levels) ** 2 - nominal ** 2) / 12
    expect(effectiveCount(microsteps, variance, 0, nominal)).toBeCloseTo(levels, 12)
  }
})
