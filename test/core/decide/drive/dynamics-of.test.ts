import { describe, expect, it } from 'vitest'
import { coilFigures, windingUses } from '#core/decide/drive/coil'
import { dynamicsOf } from '#core/decide/drive/dynamics-of'
import { inertiaOf } from '#core/decide/drive/inertia-of'
import { idleLoad } from '#core/decide/drive/load'
import { commandsBeforeMotion, lagDeg, microstepTorqueShare, springStiffness } from '#core/decide/drive/magnetic-spring'
import { pullOutAt, rateForTorque } from '#core/decide/drive/pull-out'
import { readTrain } from '#core/decide/drive/read-train'
import { rateFor, speedAt } from '#core/decide/drive/speed-of'
import { torqueChain } from '#core/decide/drive/torque-chain'
import { travelOf } from '#core/decide/drive/travel-of'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const train = (text: string) => {
  const read = readTrain(text, 'test')
  if (isUnmeasurable(read)) throw new Error(read.what)
  return read.train
}

describe('magnetic spring', () => {
  it('torque behind one microstep: a public table of coil currents, in percent', () => {
    const read = [100, 70.71, 38.27, 19.51, 9.8, 4.91, 2.45, 1.23, 0.61]
    read.forEach((percent, power) => {
      expect(100 * microstepTorqueShare(2 ** power)).toBeCloseTo(percent, 1)
    })
  })

  it('lag of a 1.8° motor: a tenth of holding torque 0.114783°, half 0.6° (computed from the arcsine)', () => {
    const motor = { holdingNm: 1, stepsPerRev: 200 }
    expect(lagDeg(0.1, motor)).toBeCloseTo(0.114783, 6)
    expect(lagDeg(0.5, motor)).toBeCloseTo(0.6, 12)
    expect(lagDeg(1, motor)).toBeNull()
  })

  it('small loads: lag = torque over stiffness', () => {
    expect(((lagDeg(1e-4, { holdingNm: 0.4, stepsPerRev: 200 }) ?? 0) * Math.PI) / 180).toBeCloseTo(
      1e-4 / springStiffness(0.4, 200),
      10,
    )
  })

  it('holding 0.35 N·m, friction 0.06 N·m, 1/256: the 29th command moves it (public worked example, unrounded)', () => {
    expect(commandsBeforeMotion(0.06 / 0.35, 256)).toBe(29)
  })

  it('friction a tenth of holding: 1/8 moves at once, 1/16 at the second, 1/32 at the third command (computed)', () => {
    expect([8, 16, 32].map((microsteps) => commandsBeforeMotion(0.1, microsteps))).toEqual([1, 2, 3])
    expect(commandsBeforeMotion(1, 4)).toBe(Number.POSITIVE_INFINITY)
  })
})

describe('inertia and torque', () => {
  it("mass on a screw: M·L²·0.025 (a motor supplier's formula, its factor rounded from 1/4π²)", () => {
    const [mass] = inertiaOf(train('screw 2 mm'), 3)
    expect(mass?.kgM2).toBeCloseTo(3 * 0.002 ** 2 * 0.0253303, 10)
    expect((mass?.kgM2 ?? 0) / (3 * 0.002 ** 2 * 0.025)).toBeCloseTo(1, 1)
  })

  it('a reduction divides inertia behind it by its square and leaves its driven wheel to the same', () => {
    const parts = inertiaOf(train('gear 4:1 inertia 16 g·cm² > rotary inertia 32 g·cm²'), 0)
    expect(parts.map(({ kgM2 }) => kgM2)).toEqual([expect.closeTo(1e-7, 15), expect.closeTo(2e-7, 15)])
  })

  it('force on a screw: T = F·L/(2π·η)', () => {
    const [motor] = torqueChain(train('screw 2 mm efficiency 0.3'), { ...idleLoad, force: 10 })
    expect(motor?.steadyNm).toBeCloseTo((10 * 0.002) / (2 * Math.PI * 0.3), 12)
  })

  it('lifting straight up takes the whole weight, lying none', () => {
    const at = (tiltDeg: number) =>
      torqueChain(train('drum round 10 mm'), { ...idleLoad, massKg: 1, tiltDeg })[0]?.steadyNm
    expect(at(90)).toBeCloseTo((9.80665 * 0.01) / (2 * Math.PI), 12)
    expect(at(0)).toBe(0)
  })

  it('without losses the torque for acceleration is reflected inertia × angular acceleration', () => {
    const chain = train('gear 5:2 inertia 9 g·cm² > pulleys 30:15 inertia 7 g·cm² > screw 2 mm inertia 11 g·cm²')
    const load = { ...idleLoad, massKg: 1.3, acceleration: 250 }
    const total = inertiaOf(chain, 1.3).reduce((sum, { kgM2 }) => sum + kgM2, 5e-6)
    const motorAcceleration = (250 / 2) * 2 * Math.PI * 5
    expect(torqueChain(chain, load, 5e-6)[0]?.acceleratingNm).toBeCloseTo(total * motorAcceleration, 12)
  })

  it('power is kept through lossless stages', () => {
    const chain = torqueChain(train('gear 5:2 > screw 2 mm'), { ...idleLoad, force: 8, speed: 3 })
    chain.forEach(({ steadyNm, revPerMin }) => {
      expect((steadyNm * revPerMin * 2 * Math.PI) / 60).toBeCloseTo((8 * 3) / 1000, 12)
    })
  })
})

describe('speed, pull-out, coil', () => {
  it("rate and speed are each other's inverse", () => {
    const travel = travelOf(train('screw M8'), { stepsPerRev: 200, microsteps: 16 })
    expect(rateFor(travel, 5, 16)).toBeCloseTo(12_800, 9)
    expect(speedAt(travel, 12_800, 16)).toBeCloseTo(5, 12)
  })

  const curve = [
    { stepRate: 800, torqueNm: 0.1 },
    { stepRate: 200, torqueNm: 0.3 },
  ]
  it('draws straight lines between pull-out points and promises nothing beyond the last', () => {
    expect(pullOutAt(curve, 500)).toBeCloseTo(0.2, 12)
    expect(pullOutAt(curve, 50)).toBe(0.3)
    expect(pullOutAt(curve, 801)).toBeNull()
    expect(rateForTorque(curve, 0.2)).toBeCloseTo(500, 9)
    expect(rateForTorque(curve, 0.4)).toBe(0)
    expect(rateForTorque([], 0.4)).toBeNull()
  })

  it('coil: 1.7 A, 1.5 Ω, 2.8 mH', () => {
    const coil = coilFigures({ currentA: 1.7, resistanceOhm: 1.5, inductanceH: 0.0028 })
    expect(coil.ratedVoltage).toBeCloseTo(2.55, 12)
    expect(coil.chopperVoltage).toBeCloseTo(32 * Math.sqrt(2.8), 12) // common practice, no source
    expect(coil.cornerStepRate).toBeCloseTo((4 * 1.5) / (2 * Math.PI * 0.0028), 9)
    expect(coilFigures({ currentA: null, resistanceOhm: 1, inductanceH: null })).toMatchObject({
      heatW: null,
      chopperVoltage: null,
    })
  })

  it('every use of a centre-tapped winding makes the same heat', () => {
    windingUses.forEach(({ current, resistance }) => {
      expect(current ** 2 * resistance).toBeCloseTo(1, 12)
    })
  })

  it('stands behind its place by lag × travel', () => {
    const dynamics = dynamicsOf(
      train('belt 20 GT2'),
      { stepsPerRev: 200, microsteps: 4 },
      { ...idleLoad, force: 10 },
      { holdingNm: 0.4, rotorInertiaKgM2: null, pullOut: [] },
    )
    const share = (10 * 0.04) / (2 * Math.PI) / 0.4
    expect(dynamics.lag).toBeCloseTo((Math.asin(share) / 50 / (2 * Math.PI)) * 40, 10)
    expect(dynamics.torqueMargin).toBeCloseTo(1 / share, 10)
  })
})
