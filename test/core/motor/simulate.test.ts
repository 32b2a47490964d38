import { describe, expect, it } from 'vitest'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'

const upTo = (last: number): number[] => Array.from({ length: last + 1 }, (_, k) => k)

/** Increments in microsteps of a forward run that has settled for one electrical cycle. */
const increments = (motor: RestModel, last: number, settleCycles = 1): number[] => {
  const rests = simulateRests(motor, { commands: upTo(last), settleCycles })
  const microstep = 360 / motor.stepsPerRev / motor.microsteps
  return upTo(last - 1).map((k) => ((rests[k + 1] ?? 0) - (rests[k] ?? 0)) / microstep)
}

/** Position errors in electrical radians, forward, settled, over one electrical cycle. */
const errors = (motor: RestModel): number[] => {
  const commands = upTo(4 * motor.microsteps - 1)
  const rests = simulateRests(motor, { commands, settleCycles: 1 })
  return commands.map((k) => ((rests[k] ?? 0) * Math.PI * motor.stepsPerRev) / 720 - (Math.PI / 2) * (k / motor.microsteps))
}

const harmonic = (values: readonly number[], order: number): number => {
  const turn = (i: number): number => (2 * Math.PI * order * i) / values.length
  const cos = values.reduce((sum, v, i) => sum + v * Math.cos(turn(i)), 0)
  const sin = values.reduce((sum, v, i) => sum + v * Math.sin(turn(i)), 0)
  return (2 / values.length) * Math.hypot(cos, sin)
}

const largest = (values: readonly number[]): number => Math.max(...values.map(Math.abs))

describe('rest positions of an even motor', () => {
  it('steps evenly without friction, whatever the start phase', () => {
    for (const g of increments({ ...evenMotor(200, 16), startPhaseDeg: 33 }, 64)) expect(g).toBeCloseTo(1, 10)
  })

  // asin(f/h): dead zone of a stepping motor with dry friction, e.g. Jones, tutorial "Friction and the dead zone"
  it('lags by asin f and stands 2·asin f apart between directions', () => {
    const motor = { ...evenMotor(200, 4), friction: 0.1 }
    const commands = [...upTo(40), ...upTo(40).reverse()]
    const rests = simulateRests(motor, { commands, settleCycles: 1 })
    expect((rests[20] ?? 0) - 20 * 0.45).toBeCloseTo(-5.739170477 / 50, 9)
    expect((rests[61] ?? 0) - (rests[20] ?? 0)).toBeCloseTo((2 * 5.739170477) / 50, 9)
  })

  // arithmetic of f/h = 0.1 from rest at the centre: lag asin(0.1) = 0.5101, 1.0203, 2.0406 microsteps
  it.each([
    [8, 0, 0.5101],
    [16, 1, 1.0203],
    [32, 2, 2.0406],
  ])('loses the first commands of a motor started at its centre, 1/%i', (microsteps, lost, lag) => {
    const motor = { ...evenMotor(200, microsteps), friction: 0.1 }
    const moved = increments(motor, 10, 0)
    expect(moved.findIndex((g) => g > 0)).toBe(lost)
    const travelled = moved.slice(0, 10).reduce((sum, g) => sum + g, 0)
    expect(10 - travelled).toBeCloseTo(lag, 4)
  })

  // 0.06 N·m of friction against 0.35 N·m, 1/256: asin(0.06/0.35)/(90°/256) = 28.08, so the 29th command moves it
  it('needs 29 commands of 1/256 to overcome 17 % of friction', () => {
    const moved = increments({ ...evenMotor(200, 256), friction: 0.06 / 0.35 }, 40, 0)
    expect(moved.findIndex((g) => g > 0)).toBe(28)
  })

  it('never moves when friction exceeds the holding torque', () => {
    expect(largest(increments({ ...evenMotor(48, 4), friction: 1.1 }, 16))).toBe(0)
  })
})

describe('detent torque of the fourth order', () => {
  // equilibria of sin(θ − γ) + r sin 4θ = 0, computed separately with a root finder (± half the last digit)
  it.each([
    [0.02, 0.0127332, 0.019985, 0.0007984],
    [0.05, 0.0318442, 0.0497658, 0.0049377],
    [0.1, 0.0637683, 0.0981305, 0.0190149],
  ])('bends the pattern by r = %f', (r, peakSteps, fourth, eighth) => {
    const pattern = errors({ ...evenMotor(200, 256), detent4: r, detent4PhaseDeg: 180 })
    expect(largest(pattern) / (Math.PI / 2)).toBeCloseTo(peakSteps, 5)
    expect(harmonic(pattern, 4)).toBeCloseTo(fourth, 6)
    expect(harmonic(pattern, 8)).toBeCloseTo(eighth, 6)
  })

  it.each([
    [0.05, [-0.1566, -0.0932, 0.043, 0.2069, 0.2069, 0.043, -0.0932, -0.1566]],
    [0.1, [-0.2748, -0.2002, 0.0092, 0.4658, 0.4658, 0.0092, -0.2002, -0.2748]],
    [0.2, [-0.4367, -0.382, -0.2066, 1.0253, 1.0253, -0.2066, -0.382, -0.4367]],
  ])('bunches the increments of 1/8 for r = %f', (r, expected) => {
    const moved = increments({ ...evenMotor(200, 8), detent4: r, detent4PhaseDeg: 180 }, 8)
    moved.forEach((g, i) => expect(g - 1).toBeCloseTo(expected[i] ?? 0, 4))
  })

  it('skips no position below a quarter of holding torque and does above it', () => {
    const leap = (r: number): number => Math.max(...increments({ ...evenMotor(200, 4096), detent4: r, detent4PhaseDeg: 180 }, 8192))
    expect(leap(0.24)).toBeLessThan(100)
    expect(leap(0.3)).toBeGreaterThan(400)
  })
})

describe('drive faults as harmonics of the electrical cycle', () => {
  // exact from atan2; B = (1 − k)·A is ε = k/(1 − k/2) about the mean of the two phases
  it.each([
    [0.05, 1.4692836, 0.025641],
    [0.1, 3.0169613, 0.0526316],
    [0.2, 6.3793702, 0.1111111],
  ])('unequal phases k = %f: second order', (k, peakDeg, second) => {
    const pattern = errors({ ...evenMotor(200, 1024), imbalance: -k / (1 - k / 2) })
    expect((largest(pattern) * 180) / Math.PI).toBeCloseTo(peakDeg, 3)
    expect(harmonic(pattern, 2)).toBeCloseTo(second, 6)
    expect(harmonic(pattern, 4)).toBeCloseTo(second ** 2 / 2, 6)
  })

  it.each([
    [0.02, 1.145992],
    [0.05, 2.865984],
    [0.1, 5.7391705],
  ])('offset o = %f in one phase: first order', (o, peakDeg) => {
    const pattern = errors({ ...evenMotor(200, 1024), offsetA: o })
    expect((largest(pattern) * 180) / Math.PI).toBeCloseTo(peakDeg, 4)
    expect(harmonic(pattern, 1)).toBeCloseTo(o, 6)
    expect(harmonic(pattern, 2)).toBeCloseTo(o ** 2 / 2, 6)
  })

  it('gives a positive sin 2φ for a stronger second phase', () => {
    const pattern = errors({ ...evenMotor(200, 2), imbalance: 0.1 })
    expect(pattern[1]).toBeGreaterThan(0.04)
  })
})

describe('friction and detent together (simulated elsewhere by an independent script, ±0.002)', () => {
  it('repeats 1.277, 0.771, 0.755, 1.197 with d₄ = 0.1 and f = 0.02', () => {
    const expected = [1.277, 0.771, 0.755, 1.197]
    increments({ ...evenMotor(48, 4), detent4: 0.1, friction: 0.02 }, 32).forEach((g, i) =>
      expect(Math.abs(g - (expected[i % 4] ?? 0))).toBeLessThan(0.002),
    )
  })

  it('makes one big jump per full step with d₂ = 0.2, d₄ = −0.35 and f = 0.05', () => {
    const expected = [0.523, 2.653, 0.471, 0.371, 0.361, 0.416, 2.644, 0.561]
    increments({ ...evenMotor(48, 4), detent2: 0.2, detent4: -0.35, friction: 0.05 }, 32).forEach((g, i) =>
      expect(Math.abs(g - (expected[i % 8] ?? 0))).toBeLessThan(0.002),
    )
  })

  it('comes to rest exactly where the torque equals the friction', () => {
    const motor = { ...evenMotor(4, 4), detent2: 0.2, detent4: -0.35, friction: 0.05 }
    const rests = simulateRests(motor, { commands: upTo(64), settleCycles: 1 })
    const torques = upTo(64).map((k) => {
      const x = ((rests[k] ?? 0) * Math.PI) / 180
      return Math.sin((Math.PI / 8) * k - x) + 0.2 * Math.sin(2 * x) - 0.35 * Math.sin(4 * x)
    })
    for (const torque of torques) expect(Math.abs(torque)).toBeLessThanOrEqual(0.05 + 1e-12)
  })

  it('repeats from cycle to cycle once settled, in both directions', () => {
    const motor = { ...evenMotor(48, 8), detent2: 0.15, detent4: 0.3, friction: 0.1, imbalance: 0.1, offsetA: 0.05 }
    const there = simulateRests(motor, { commands: upTo(64), settleCycles: 1 })
    const back = simulateRests(motor, { commands: upTo(64).reverse(), settleCycles: 1 })
    for (const rests of [there, back.reverse()])
      upTo(32).forEach((k) => expect((rests[k + 32] ?? 0) - (rests[k] ?? 0)).toBeCloseTo(30, 9))
  })
})

describe('wrong use', () => {
  it('refuses a fractional microstep count, no steps and negative friction', () => {
    const run = { commands: [0, 1] }
    expect(() => simulateRests(evenMotor(200, 1.5), run)).toThrow(RangeError)
    expect(() => simulateRests(evenMotor(0, 4), run)).toThrow(RangeError)
    expect(() => simulateRests({ ...evenMotor(200, 4), friction: -0.1 }, run)).toThrow(RangeError)
  })
})
