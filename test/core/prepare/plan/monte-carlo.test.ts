import { describe, expect, it } from 'vitest'
import { evenMotor } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { effectiveOutlook, marksForInterval } from '#core/prepare/plan/effective-interval'
import { expectedBudget, markU } from '#core/prepare/plan/expected-budget'
import type { PlanSetup } from '#core/prepare/plan/plan-setup'
import { pointer, setup, wall } from './planned-rigs.ts'

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
      return (
        Math.atan2(lengthMm * Math.sin(angle * rad + along) + dy, lengthMm * Math.cos(angle * rad + along) + dx) / rad
      )
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
    [
      '60 mm pointer, 48 steps, 1/4, a third of a turn',
      setup(pointer(60), { stepsPerRev: 48, microsteps: 4, fullSteps: 16, markUMm: 0.3 }),
    ],
    [
      '60 mm pointer, pivot ± 0.5 mm, a third of a turn',
      setup(pointer(60, 0.5), { stepsPerRev: 48, microsteps: 4, fullSteps: 16, markUMm: 0.1 }),
    ],
    ['wall at 1.5 m, 8 full steps, marks and spot', setup({ ...wall(1500), spotMm: 4 })],
    ['wall at 1 m, distance ± 5 mm, 20 full steps', setup({ ...wall(1000), distanceUMm: 5 }, { fullSteps: 20 })],
    [
      'wall at 1 m, foot ± 30 mm, 32 full steps, fine marks',
      setup({ ...wall(1000), footUMm: 30 }, { fullSteps: 32, microsteps: 4, markUMm: 0.05 }),
    ],
  ]
  it.each(cases)('%s', (_, setUp) => {
    const share = realisedU(setUp, 300) / markU(expectedBudget(setUp))
    expect(share).toBeGreaterThan(0.85)
    expect(share).toBeLessThan(1.15)
  })
})

/** Standard deviation of N_eff over simulated traces with normal marking noise. Simulated data. */
const realisedSpread = (trace: {
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly detent4: number
  readonly uDeg: number
  readonly fullSteps: number
}) => {
  const { stepsPerRev, microsteps, uDeg } = trace
  const commands = Array.from({ length: trace.fullSteps * microsteps }, (_, k) => k + 1)
  const delta = 360 / stepsPerRev / microsteps
  const rests = simulateRests(
    { ...evenMotor(stepsPerRev, microsteps), detent4: trace.detent4 },
    { commands, settleCycles: 1 },
  )
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
    const outlook = effectiveOutlook({
      microsteps: trace.microsteps,
      stepDeg: 360 / trace.stepsPerRev,
      uDeg: trace.uDeg,
      sigmaDeg,
      marks,
    })
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
