import { describe, expect, it } from 'vitest'
import { fitMotor } from '#core/motor/fit-motor'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { fitted, simulatedTrace } from './simulated-trace.ts'

// All traces here are simulated; the truth is what went into the simulation.
const can = evenMotor(48, 4)
const seeds = (count: number): number[] => Array.from({ length: count }, (_, i) => i + 1)

/** Share of seeds whose fitted value lies within a distance of the truth. */
const shareWithin = (motor: RestModel, bothWays: boolean, parameter: 'detent2' | 'detent4' | 'imbalance' | 'friction', distance: number): number => {
  const truth = Math.abs(motor[parameter])
  const misses = seeds(20).map((seed) => {
    const value = fitted(simulatedTrace(motor, { seed, bothWays }), { seed, intervals: 'linear' }).motorFit[parameter]?.value
    return Math.abs((value ?? Number.NaN) - truth)
  })
  return misses.filter((miss) => miss <= distance).length / misses.length
}

describe('recovery from marks of u = 0.1 microstep, 97 marks there (and back)', () => {
  it('finds fourth-order detent within 0.03 of holding torque', () => {
    expect(shareWithin({ ...can, detent4: 0.1, friction: 0.02, startPhaseDeg: 45 }, false, 'detent4', 0.03)).toBe(1)
  })

  // 0.02 is 2.3 standard errors of the imbalance here (2·u·√(2/186) with u = 0.039 rad): 98 % expected, 90 % of 20 asked
  it('finds an imbalance within 0.02 from both directions', () => {
    expect(shareWithin({ ...can, imbalance: 0.1, detent4: 0.05, friction: 0.03 }, true, 'imbalance', 0.02)).toBeGreaterThanOrEqual(0.9)
  })

  it('finds friction within 0.03 from both directions', () => {
    expect(shareWithin({ ...can, detent4: 0.08, friction: 0.08 }, true, 'friction', 0.03)).toBe(1)
  })

  it('finds both detents of a leaping motor within 0.03, and its friction, from both directions', () => {
    const motor = { ...can, detent2: 0.2, detent4: -0.35, friction: 0.05 }
    for (const seed of seeds(6)) {
      const { motorFit } = fitted(simulatedTrace(motor, { seed, bothWays: true }), { seed, intervals: 'linear' })
      expect(Math.abs((motorFit.detent2?.value ?? 1) - 0.2)).toBeLessThan(0.03)
      expect(Math.abs((motorFit.detent4?.value ?? 1) - 0.35)).toBeLessThan(0.03)
      expect(Math.abs((motorFit.friction?.value ?? 1) - 0.05)).toBeLessThan(0.03)
      expect(motorFit.finding.cause).toBe('unequal stacks')
    }
  })
})

describe('naming a cause', () => {
  // 400 traces: the true rate is held to 5 %; 33 of 400 is its upper 99.9 % binomial point
  it('names none on an even motor, but for 5 %', () => {
    const named = seeds(400).filter((seed) => fitted(simulatedTrace(can, { seed }), { seed, intervals: 'linear' }).motorFit.finding.cause !== 'even')
    expect(named.length / 400).toBeLessThanOrEqual(0.05 + 3.1 * Math.sqrt((0.05 * 0.95) / 400))
  })

  it.each([
    ['detent torque', { detent4: 0.12 }, false],
    ['unequal phases or stacks', { imbalance: 0.2 }, false],
    ['current offset', { offsetA: 0.1 }, false],
    ['friction', { friction: 0.15 }, true],
  ] as const)('says %s for %j', (cause, fault, bothWays) => {
    const { finding } = fitted(simulatedTrace({ ...can, ...fault }, { seed: 5, bothWays }), { seed: 1 }).motorFit
    expect(finding.cause).toBe(cause)
    expect(finding.confidence).toBeGreaterThan(0.95)
    expect(finding.text).toMatch(/95 % interval/)
    expect(finding.text).toMatch(/[Rr]epeat/)
  })

  it('parts unequal phases from unequal stacks when many fine marks allow it', () => {
    const motor = { ...evenMotor(200, 16), imbalance: 0.2, detent4: 0.05 }
    const { motorFit } = fitted(simulatedTrace(motor, { seed: 1, last: 3200 }), { seed: 1, intervals: 'linear' })
    expect(motorFit.finding.cause).toBe('unequal phases')
    expect(Math.abs((motorFit.imbalance?.value ?? 0) - 0.2)).toBeLessThan(0.02)
  })

  it('asks to wait longer when the rests scatter more than their marks', () => {
    const { finding } = fitted({ ...simulatedTrace(can, { seed: 1 }), uDeg: 0.02 }, { seed: 1 }).motorFit
    expect(finding.text).toContain('wait longer after every command')
  })

  it('does not where they repeat as their marks let them, and only the model falls short of the pattern', () => {
    const repeating = simulatedTrace(evenMotor(48, 4), { seed: 3 })
    const lifted = { ...repeating, anglesDeg: repeating.anglesDeg.map((angle, i) => angle - ((repeating.commands[i] ?? 0) % 4 === 2 ? 1.7 : 0)) }
    const { finding } = fitted(lifted, { seed: 1 }).motorFit
    expect(finding.text).toContain('Part of the repeating pattern is not explained by it')
    expect(finding.text).not.toContain('scatter more')
  })
})

describe('what cannot be told', () => {
  it('keeps silent about friction from one direction and says why', () => {
    const { motorFit } = fitted(simulatedTrace({ ...can, detent4: 0.1, friction: 0.1 }, { seed: 2 }), { seed: 1 })
    expect(motorFit.friction).toBeNull()
    expect(motorFit.notTold.find(({ parameter }) => parameter === 'friction')?.why).toContain('return pass')
  })

  it('keeps silent about fourth-order detent at half and full steps', () => {
    for (const microsteps of [1, 2]) {
      const { motorFit } = fitted(simulatedTrace({ ...evenMotor(48, microsteps), detent4: 0.1 }, { seed: 1, last: 48 * microsteps }), { seed: 1 })
      expect(motorFit.detent4).toBeNull()
      expect(motorFit.notTold.map(({ parameter }) => parameter)).toContain('detent4')
    }
  })

  it('returns unmeasurable for less than an electrical cycle, and without u or repeats', () => {
    expect(isUnmeasurable(fitMotor(simulatedTrace(can, { seed: 1, last: 14 }), { seed: 1 }))).toBe(true)
    expect(isUnmeasurable(fitMotor({ ...simulatedTrace(can, { seed: 1, last: 18 }), uDeg: 0 }, { seed: 1 }))).toBe(true)
  })

  it('refuses lists of unequal length', () => {
    expect(() => fitMotor({ ...simulatedTrace(can, { seed: 1 }), passes: [1] }, { seed: 1 })).toThrow(RangeError)
  })
})

describe('intervals', () => {
  // 95 % of 120 is 114; 105 is the lower 99.9 % binomial point. The full study of 2,000 traces is scripts/bench/coverage-motor.ts
  it('hold the truth about 95 times in 100', () => {
    const motor = { ...can, detent4: 0.1, imbalance: 0.12, offsetA: 0.05, friction: 0.04 }
    const truths = { detent4: 0.1, imbalance: 0.12, friction: 0.04 } as const
    const held = { detent4: 0, imbalance: 0, friction: 0 }
    for (const seed of seeds(120)) {
      const { motorFit } = fitted(simulatedTrace(motor, { seed, bothWays: true }), { seed, intervals: 'linear' })
      for (const name of ['detent4', 'imbalance', 'friction'] as const) {
        const interval = motorFit[name]
        if (interval !== null && interval.low <= truths[name] && truths[name] <= interval.high) held[name]++
      }
    }
    for (const count of Object.values(held)) expect(count).toBeGreaterThanOrEqual(105)
  })

  it('repeat with the seed', () => {
    const trace = simulatedTrace({ ...can, detent4: 0.1 }, { seed: 1 })
    expect(fitted(trace, { seed: 9 }).motorFit).toEqual(fitted(trace, { seed: 9 }).motorFit)
  })
})
