import { describe, expect, it } from 'vitest'
import { evenMotor } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import { leaps, steadyCycle, steadyCycleJacobian } from '#core/motor/steady-cycle'

// zero, offsetA, offsetB, unequalSin, unequalCos, detent2Sin, detent2Cos, detent4Sin, detent4Cos, friction
const smooth = [0, 0.03, -0.02, 0.1, 0, 0.03, 0, 0.08, 0.02, 0.05]
const leaping = [0, 0, 0, 0, 0, 0.2, 0, -0.35, 0, 0.05]

describe('settled cycle', () => {
  it.each([1, -1] as const)('equals the step-by-step simulation, direction %i', (direction) => {
    for (const [detent2, detent4, imbalance, friction] of [
      [0.03, 0.08, 0.1, 0.05],
      [0.2, -0.35, 0, 0.05],
      [0, 0.3, 0, 0.3],
    ] as const) {
      const motor = { ...evenMotor(4, 16), detent2, detent4, imbalance, friction }
      const there = Array.from({ length: 64 }, (_, k) => k)
      const commands = direction > 0 ? there : there.toReversed()
      const rests = simulateRests(motor, { commands, settleCycles: 2 })
      const { error } = steadyCycle([0, 0, 0, imbalance, 0, detent2, 0, detent4, 0, friction], 64, direction)
      commands.forEach((k, i) => expect(error[k]).toBeCloseTo(((rests[i] ?? 0) * Math.PI) / 180 - (Math.PI * k) / 32, 10))
    }
  })

  it.each([
    ['smooth', smooth],
    ['leaping', leaping],
  ])('has the derivatives of its own finite differences (%s)', (_, parameters) => {
    for (const direction of [1, -1] as const) {
      const columns = steadyCycleJacobian(parameters, steadyCycle(parameters, 16, direction), direction)
      for (let place = 1; place < 10; place++) {
        const at = (shift: number) => steadyCycle(parameters.map((v, i) => (i === place ? v + shift : v)), 16, direction).error
        const [above, below] = [at(1e-6), at(-1e-6)]
        above.forEach((value, i) => expect((value - (below[i] ?? 0)) / 2e-6).toBeCloseTo(columns[place]?.[i] ?? Number.NaN, 7))
      }
    }
  })

  // 1 − 4·d₄ > 0: below a quarter of holding torque every place can be reached
  it('leaps above a quarter of fourth-order detent', () => {
    const detent = (d4: number) => [0, 0, 0, 0, 0, 0, 0, d4, 0, 0]
    expect(leaps(detent(0.24))).toBe(false)
    expect(leaps(detent(0.3))).toBe(true)
  })
})
