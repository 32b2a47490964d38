import { describe, expect, it } from 'vitest'
import { correctionTable } from '#core/motor/correction-table'
import { correctionCsv, correctionJson } from '#core/motor/correction-text'
import { predictModes } from '#core/motor/predict'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import { fitted, simulatedTrace } from './simulated-trace.ts'

const can = evenMotor(48, 4)

/** Increments, microsteps, of the true motor when every command gives the phase of the table (one command per 1/1000 of the cycle). */
const correctedIncrements = (motor: RestModel, offsetsDeg: readonly number[]): number[] => {
  const fine = { ...motor, microsteps: 2500 }
  const phases = [...offsetsDeg, ...offsetsDeg, offsetsDeg[0] ?? 0].map((offset, k) => Math.round(((360 * k) / offsetsDeg.length + offset) / 0.036))
  const rests = simulateRests(fine, { commands: phases, settleCycles: 1 })
  const microstep = 360 / motor.stepsPerRev / (offsetsDeg.length / 4)
  return offsetsDeg.map((_, k) => ((rests[k + 1] ?? 0) - (rests[k] ?? 0)) / microstep)
}

describe('correction table', () => {
  // one phase step of 0.036° and the parameters' own errors (0.006 of holding torque ≈ 0.02 microstep) leave less than 0.1
  it('evens out the true motor when its phases are given', () => {
    const motor = { ...can, detent4: 0.12, imbalance: 0.15, offsetA: 0.04, friction: 0.02, startPhaseDeg: 45 }
    const table = correctionTable(fitted(simulatedTrace(motor, { seed: 1, last: 384 }), { seed: 1 }))
    if (table.kind !== 'correction table') throw new Error(table.reason)
    expect(table.rows).toHaveLength(16)
    expect(table.rows.reduce((sum, row) => sum + row.offsetDeg, 0)).toBeCloseTo(0, 9)
    for (const g of correctedIncrements(motor, table.rows.map((row) => row.offsetDeg))) expect(Math.abs(g - 1)).toBeLessThan(0.1)
    expect(table.after.value).toBeGreaterThan(3.9)
    expect(table.before.value).toBeLessThan(3.4)
  })

  it('is withheld, with the reason, where it could not help', () => {
    const reasonFor = (motor: RestModel, bothWays = false): string => {
      const table = correctionTable(fitted(simulatedTrace(motor, { seed: 4, bothWays }), { seed: 1 }))
      return table.kind === 'withheld' ? table.reason : 'given'
    }
    expect(reasonFor(can)).toContain('no unevenness')
    expect(reasonFor({ ...can, detent2: 0.2, detent4: -0.35, friction: 0.05 })).toContain('leaps over')
    expect(reasonFor({ ...can, friction: 0.3, detent4: 0.1 }, true)).toContain('Friction')
    const scattered = fitted({ ...simulatedTrace({ ...can, detent4: 0.1 }, { seed: 1, u: 0.4 }), uDeg: 0.1 }, { seed: 1 })
    expect(correctionTable(scattered)).toMatchObject({ kind: 'withheld', reason: expect.stringContaining('scatter') })
  })

  it('is written as CSV and as JSON, angles in electrical degrees', () => {
    const table = correctionTable(fitted(simulatedTrace({ ...can, detent4: 0.12 }, { seed: 1 }), { seed: 1 }))
    if (table.kind !== 'correction table') throw new Error(table.reason)
    const lines = correctionCsv(table).trimEnd().split('\n')
    expect(lines.filter((line) => !line.startsWith('#'))).toHaveLength(17)
    expect(lines.find((line) => line.startsWith('5,'))).toMatch(/^5,112\.5,-?\d+\.\d{3}$/)
    expect(JSON.parse(correctionJson(table))).toMatchObject({ unit: 'electrical degrees', prediction: true, microsteps: 4 })
  })
})

describe('prediction of modes that were not measured', () => {
  /** Mean square error of one settled cycle in one direction, microsteps². */
  const square = (motor: RestModel, direction: 1 | -1): number => {
    const there = Array.from({ length: 4 * motor.microsteps }, (_, k) => k)
    const commands = direction > 0 ? there : there.toReversed()
    const microstep = 360 / motor.stepsPerRev / motor.microsteps
    const rests = simulateRests(motor, { commands, settleCycles: 1 })
    const errors = commands.map((k, i) => (rests[i] ?? 0) / microstep - k)
    const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length
    return errors.reduce((sum, e) => sum + (e - mean) ** 2, 0) / errors.length
  }

  /** N_eff over both directions, each about its own mean. */
  const truth = (motor: RestModel, microsteps: number): number =>
    microsteps / Math.sqrt(1 + 6 * (square({ ...motor, microsteps }, 1) + square({ ...motor, microsteps }, -1)))

  it('holds the effective count of 1/8, 1/16 and 1/32 from a 1/4 trace', () => {
    for (const motor of [can, { ...can, detent4: 0.1, imbalance: 0.1 }, { ...can, detent2: 0.2, detent4: -0.35, friction: 0.05 }]) {
      const predictions = predictModes(fitted(simulatedTrace(motor, { seed: 1, bothWays: true }), { seed: 1 }).fitted, [8, 16, 32])
      for (const { kind, microsteps, effectiveMicrosteps } of predictions) {
        expect(kind).toBe('prediction')
        expect(effectiveMicrosteps.low).toBeLessThanOrEqual(truth(motor, microsteps) + 1e-9)
        expect(effectiveMicrosteps.high).toBeGreaterThanOrEqual(truth(motor, microsteps) - 1e-9)
      }
    }
  })

  it('refuses a mode that is no whole number', () => {
    const { fitted: rests } = fitted(simulatedTrace(can, { seed: 1 }), { seed: 1, intervals: 'linear' })
    expect(() => predictModes(rests, [2.5])).toThrow(RangeError)
  })
})
