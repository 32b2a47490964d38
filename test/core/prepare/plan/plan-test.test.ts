import { describe, expect, it } from 'vitest'
import { expectedBudget, incrementU, markU } from '#core/prepare/plan/expected-budget'
import { markSpacing } from '#core/prepare/plan/mark-spacing'
import { neededLength } from '#core/prepare/plan/needed-length'
import { paperNeeded } from '#core/prepare/plan/paper-needed'
import type { PlannedRig, PlanSetup } from '#core/prepare/plan/plan-setup'
import { planTest } from '#core/prepare/plan/plan-test'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { pointer, setup, wall } from './planned-rigs.ts'

const planned = (setUp: PlanSetup) => {
  const plan = planTest(setUp)
  if (isUnmeasurable(plan)) throw new Error(plan.what)
  return plan
}

describe('what a mark is worth in angle (tables computed from u/R and u/2D)', () => {
  it.each([
    [50, 0.1, 0.1146],
    [80, 0.2, 0.1432],
    [100, 0.2887, 0.1654],
    [300, 0.5, 0.0955],
  ])('pointer of %i mm, marks to %f mm: %f°', (length, u, expected) => {
    expect(markU(expectedBudget(setup(pointer(length), { markUMm: u })))).toBeCloseTo(expected, 4)
  })

  it.each([
    [500, 0.2, 0.01146],
    [1000, 1, 0.02865],
    [3000, 0.5, 0.00477],
  ])('wall at %i mm, marks to %f mm: %f°', (distance, u, expected) => {
    expect(markU(expectedBudget(setup(wall(distance), { markUMm: u, fullSteps: 0 })))).toBeCloseTo(expected, 5)
  })

  it.each([
    [50, 3.93],
    [80, 6.28],
    [100, 7.85],
    [150, 11.78],
    [200, 15.71],
    [300, 23.56],
  ])('a %i mm pointer with 0.2 mm marks tells apart about %f positions per 1.8° step', (length, expected) => {
    expect(planned(setup(pointer(length))).toldApart).toBeCloseTo(expected, 2)
  })
})

describe('spacing on the wall', () => {
  it('1/16 of 1.8° moves the spot 1.964, 3.927, 7.854 mm at 0.5, 1, 2 m (computed)', () => {
    expect(
      [500, 1000, 2000].map((distance) => Number(markSpacing(setup(wall(distance))).smallestMm.toFixed(3))),
    ).toEqual([1.963, 3.927, 7.854])
  })

  it('1.8° and 7.5° steps from the foot at 1 m: 62.91467 and 267.94919 mm (computed: D·tan 2θ)', () => {
    const ends = (stepsPerRev: number) =>
      markSpacing(setup(wall(1000), { stepsPerRev, microsteps: 1, fullSteps: 2 })).largestMm
    expect(ends(200)).toBeCloseTo(62.91467, 5)
    expect(ends(48)).toBeCloseTo(267.94919, 5)
  })
})

describe('pointer length and wall distance for U ≤ δ/4', () => {
  it.each([pointer(100), wall(1000)])('is reached exactly at the length it names', (rig) => {
    const length = neededLength(setup(rig))
    const at = rig.kind === 'pointer' ? pointer(length) : wall(length)
    expect(incrementU(expectedBudget(setup(at, { fullSteps: 0 })))).toBeCloseTo(0.1125 / 4, 12)
  })

  it('does not depend on the length it starts from; a wall needs half the pointer', () => {
    expect(neededLength(setup(pointer(37)))).toBeCloseTo(neededLength(setup(pointer(370))), 9)
    expect(neededLength(setup(wall(1000)))).toBeCloseTo(neededLength(setup(pointer(100))) / 2, 9)
  })

  it('a gear between motor and pointer costs its ratio', () => {
    expect(neededLength(setup(pointer(100), { gearRatio: 2 }))).toBeCloseTo(
      (4 * neededLength(setup(pointer(100)))) / 2,
      6,
    )
  })
})

describe('the plan', () => {
  it('refuses in plain words to promise 1/16 from a 100 mm pointer', () => {
    const plan = planned(setup(pointer(100)))
    expect(plan.warnings.join(' ')).toContain('describe the ruler, not the motor')
    expect(plan.finestMode).toBe(1)
  })

  it('warns of the tangent law and of a spot wider than the spacing', () => {
    const warnings = planned(setup({ ...wall(500), spotMm: 4 }, { fullSteps: 16 })).warnings.join(' ')
    expect(warnings).toContain('flat wall')
    expect(warnings).toContain('spot is wider')
  })

  it('has no strip for a whole turn on a wall', () => {
    expect(isUnmeasurable(planTest(setup(wall(1000), { fullSteps: 200 })))).toBe(true)
  })

  it('gives the laser caution with a mirror only, and the codes caution always', () => {
    const keys = (rig: PlannedRig) => planned(setup(rig)).cautions.map(({ key }) => key)
    expect(keys(wall(1000))).toContain('laser')
    expect(keys(pointer(100))).not.toContain('laser')
    expect(keys(pointer(100)).at(-1)).toBe('codes')
  })

  it('fits a full turn of a 90 mm pointer on A4 and of a 120 mm one on A3', () => {
    expect(paperNeeded(setup(pointer(90), { fullSteps: 200 })).sheet).toBe('A4')
    expect(paperNeeded(setup(pointer(120), { fullSteps: 200 })).sheet).toBe('A3')
    expect(paperNeeded(setup(wall(5000), { fullSteps: 16 })).sheet).toBeNull()
  })
})
