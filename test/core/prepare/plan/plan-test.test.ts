import { describe, expect, it } from 'vitest'
import { evenMotor } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { effectiveOutlook, marksForInterval } from '#core/prepare/plan/effective-interval'
import { expectedBudget, incrementU, markU } from '#core/prepare/plan/expected-budget'
import { markSpacing } from '#core/prepare/plan/mark-spacing'
import { neededLength } from '#core/prepare/plan/needed-length'
import { paperNeeded } from '#core/prepare/plan/paper-needed'
import type { PlannedRig, PlanSetup } from '#core/prepare/plan/plan-setup'
import { planTest } from '#core/prepare/plan/plan-test'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const pointer = (lengthMm: number, pivotUMm = 0) => ({ kind: 'pointer', lengthMm, pivotUMm }) as const
const wall = (distanceMm: number): Extract<PlannedRig, { kind: 'mirror' }> => ({ kind: 'mirror', distanceMm, distanceUMm: 0, footUMm: 0, spotMm: 0, ratio: 2 })

const setup = (rig: PlannedRig, rest: Partial<PlanSetup> = {}): PlanSetup => ({
  stepsPerRev: 200,
  microsteps: 16,
  rig,
  gearRatio: 1,
  markUMm: 0.2,
  lineMm: 0.5,
  fullSteps: 8,
  passes: 1,
  bothWays: false,
  dwellS: 2,
  expectedErrorShare: 0.03,
  wantedHalfWidth: null,
  ...rest,
})

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
    expect([500, 1000, 2000].map((distance) => Number(markSpacing(setup(wall(distance))).smallestMm.toFixed(3)))).toEqual([1.963, 3.927, 7.854])
  })

  it('1.8° and 7.5° steps from the foot at 1 m: 62.91467 and 267.94919 mm (computed: D·tan 2θ)', () => {
    const ends = (stepsPerRev: number) => markSpacing(setup(wall(1000), { stepsPerRev, microsteps: 1, fullSteps: 2 })).largestMm
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
    expect(neededLength(setup(pointer(100), { gearRatio: 2 }))).toBeCloseTo(4 * neededLength(setup(pointer(100))) / 2, 6)
  })
})

/** Marks of a simulated motor on paper or wall, read back with the set-up believed exact. Simulated data. */
const readBack = (setUp: PlanSetup, rests: Float64Array, seed: number): number[] => {
  const random = seededRandom(seed)
  const noise = () => setUp.markUMm * normal(random)
  const rad = Math.PI / 180
  if (setUp.rig.kind === 'pointer') {
    const { lengthMm, pivotUMm } = setUp.rig
    const [dx, dy] = [pivotUMm * normal(random), pivotUMm * normal(random)]
    return Array.from(rests, (angle) => {
      const along = noise() / lengthMm
      return Math.atan2(lengthMm * Math.sin(angle * rad + along) + dy, lengthMm * Math.cos(angle * rad + along) + dx) / rad
    })
  }
  const { distanceMm, distanceUMm, footUMm, spotMm, ratio } = setUp.rig
  const [trueDistance, foot] = [distanceMm + distanceUMm * normal(random), footUMm * normal(random)]
  const middle = (rests[0] ?? 0) / 2 + (rests[rests.length - 1] ?? 0) / 2
  return Array.from(rests, (angle) => {
    const x = trueDistance * Math.tan(ratio * (angle - middle) * rad) + noise() + 0.1 * spotMm * normal(random) + foot
    return Math.atan(x / distanceMm) / rad / ratio
  })
}

const realisedU = (setUp: PlanSetup, repeats: number): number => {
  const commands = Array.from({ length: setUp.fullSteps * setUp.microsteps + 1 }, (_, k) => k)
  const motor = { ...evenMotor(setUp.stepsPerRev, setUp.microsteps), detent4: 0.05, friction: 0.03 }
  const rests = simulateRests(motor, { commands, settleCycles: 1 })
  let sum = 0
  for (let seed = 1; seed <= repeats; seed += 1) {
    const off = readBack(setUp, rests, seed).map((angle, k) => angle - (rests[k] ?? 0))
    const centre = off.reduce((total, value) => total + value, 0) / off.length
    sum += off.reduce((total, value) => total + (value - centre) ** 2, 0) / off.length
  }
  return Math.sqrt(sum / repeats)
}

describe('predicted against realised uncertainty of a mark, Monte Carlo on the simulator, within 15 %', () => {
  const cases: readonly (readonly [string, PlanSetup])[] = [
    ['100 mm pointer over 8 full steps', setup(pointer(100))],
    ['60 mm pointer, 48 steps, 1/4, a third of a turn', setup(pointer(60), { stepsPerRev: 48, microsteps: 4, fullSteps: 16, markUMm: 0.3 })],
    ['60 mm pointer, pivot ± 0.5 mm, a third of a turn', setup(pointer(60, 0.5), { stepsPerRev: 48, microsteps: 4, fullSteps: 16, markUMm: 0.1 })],
    ['wall at 1.5 m, 8 full steps, marks and spot', setup({ ...wall(1500), spotMm: 4 })],
    ['wall at 1 m, distance ± 5 mm, 20 full steps', setup({ ...wall(1000), distanceUMm: 5 }, { fullSteps: 20 })],
    ['wall at 1 m, foot ± 30 mm, 32 full steps, fine marks', setup({ ...wall(1000), footUMm: 30 }, { fullSteps: 32, microsteps: 4, markUMm: 0.05 })],
  ]
  it.each(cases)('%s', (_, setUp) => {
    const share = realisedU(setUp, 300) / markU(expectedBudget(setUp))
    expect(share).toBeGreaterThan(0.85)
    expect(share).toBeLessThan(1.15)
  })
})

/** Standard deviation of N_eff over simulated traces with normal marking noise. Simulated data. */
const realisedSpread = (trace: { readonly stepsPerRev: number; readonly microsteps: number; readonly detent4: number; readonly uDeg: number; readonly fullSteps: number }) => {
  const { stepsPerRev, microsteps, uDeg } = trace
  const commands = Array.from({ length: trace.fullSteps * microsteps }, (_, k) => k + 1)
  const delta = 360 / stepsPerRev / microsteps
  const rests = simulateRests({ ...evenMotor(stepsPerRev, microsteps), detent4: trace.detent4 }, { commands, settleCycles: 1 })
  const variance = (errors: readonly number[]) => {
    const centre = errors.reduce((sum, error) => sum + error, 0) / errors.length
    return errors.reduce((sum, error) => sum + (error - centre) ** 2, 0) / errors.length
  }
  const random = seededRandom(7)
  const counts = Array.from({ length: 600 }, () => {
    const squares = variance(commands.map((k, i) => (rests[i] ?? 0) - delta * k + uDeg * normal(random)))
    return microsteps / Math.sqrt(1 + (12 * Math.max(0, squares - uDeg ** 2)) / delta ** 2)
  })
  const sigmaDeg = Math.sqrt(variance(commands.map((k, i) => (rests[i] ?? 0) - delta * k)))
  return { spread: Math.sqrt(variance(counts)), sigmaDeg, marks: commands.length }
}

describe('predicted against realised spread of the effective count, Monte Carlo on the simulator, within 15 %', () => {
  it.each([
    { stepsPerRev: 200, microsteps: 16, detent4: 0.05, uDeg: 0.02, fullSteps: 40 },
    { stepsPerRev: 200, microsteps: 8, detent4: 0.08, uDeg: 0.05, fullSteps: 40 },
    { stepsPerRev: 48, microsteps: 4, detent4: 0.1, uDeg: 0.15, fullSteps: 48 },
    { stepsPerRev: 200, microsteps: 4, detent4: 0.1, uDeg: 0.05, fullSteps: 16 },
  ])('$stepsPerRev steps, 1/$microsteps, detent $detent4, u $uDeg°', (trace) => {
    const { spread, sigmaDeg, marks } = realisedSpread(trace)
    const outlook = effectiveOutlook({ microsteps: trace.microsteps, stepDeg: 360 / trace.stepsPerRev, uDeg: trace.uDeg, sigmaDeg, marks })
    expect(spread / outlook.u).toBeGreaterThan(0.85)
    expect(spread / outlook.u).toBeLessThan(1.15)
  })

  it('as many marks as it asks for give the wanted interval', () => {
    const trace = { microsteps: 16, stepDeg: 1.8, uDeg: 0.02, sigmaDeg: 0.054 }
    const marks = marksForInterval(trace, 0.2)
    expect(1.959964 * effectiveOutlook({ ...trace, marks }).u).toBeLessThanOrEqual(0.2)
    expect(1.959964 * effectiveOutlook({ ...trace, marks: marks - 1 }).u).toBeGreaterThan(0.2)
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
