import { describe, expect, it } from 'vitest'
import type { DriveFigures } from '#core/decide/drive/drive-figures'
import { readTrain } from '#core/decide/drive/read-train'
import { travelOf } from '#core/decide/drive/travel-of'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const train = (text: string) => {
  const read = readTrain(text, 'test')
  if (isUnmeasurable(read)) throw new Error(read.what)
  return read.train
}

const modeOf = (text: string, stepsPerRev: number, microsteps: number) => {
  const travel = travelOf(train(text), { stepsPerRev, microsteps })
  return { travel, finest: travel.modes[travel.modes.length - 1] }
}

describe('travel of a drum, pulley and screw: common practice, no source', () => {
  it('24 steps and an 8.5 : 1 reduction make 204 steps per turn; a drum of 41.78 mm round gives 0.205 mm per full step', () => {
    const { travel, finest } = modeOf('gear 17:2 > drum round 41.78 mm', 24, 16)
    expect(travel.fullStepsPerOutputTurn).toBe(204)
    expect(travel.perFullStep).toBeCloseTo(0.205, 3)
    expect(finest?.commandsPerOutputTurn).toBe(3264)
    expect(finest?.nominal).toBeCloseTo(0.0128, 6)
  })

  it('200 steps straight on a 12 mm pulley at 1/16 is about 0.012 mm', () => {
    expect(modeOf('drum 12 mm', 200, 16).finest?.nominal).toBeCloseTo(0.012, 3)
  })

  it('a screw of 0.7 mm pitch on 24 steps is about 0.03 mm per full step', () => {
    expect(modeOf('screw 0.7 mm', 24, 1).travel.perFullStep).toBeCloseTo(0.03, 2)
    expect(modeOf('screw M4', 24, 1).travel.perFullStep).toBeCloseTo(0.7 / 24, 12)
  })
})

/** Commands per mm. The first two: a public machine-building forum thread; the rest computed from pitch and step count. */
const commandsPerMm: readonly (readonly [string, number, number, number])[] = [
  ['screw 25 mm', 400, 16, 256],
  ['screw 12 mm', 400, 16, 533.3333333333],
  ['screw Tr8x8(P2)', 200, 16, 400],
  ['screw 2 mm', 200, 16, 1600],
  ['screw M8', 200, 16, 2560],
  ['belt 20 GT2', 200, 16, 80],
  ['belt 16 GT2', 200, 16, 100],
  ['belt 20 T2.5', 200, 16, 64],
]

describe('commands per millimetre', () => {
  it.each(commandsPerMm)('%s, %i steps, 1/%i: %f per mm', (text, steps, microsteps, expected) => {
    expect(modeOf(text, steps, microsteps).finest?.commandsPerUnit).toBeCloseTo(expected, 9)
  })

  it.each([
    ['screw 2 mm', 0.01], // a public quiz file
    ['belt 20 GT2', 0.2], // a public note on belts
    ['screw M3', 0.0025],
    ['screw M5', 0.004],
    ['screw M6', 0.005],
    ['screw M10', 0.0075],
    ['screw M12', 0.00875],
    ['screw Tr10x2', 0.01],
    ['screw Tr12x3', 0.015],
    ['screw 2 mm x 4', 0.04],
  ] as const)('%s moves %f mm per full step of 200', (text, expected) => {
    expect(modeOf(text, 200, 1).travel.perFullStep).toBeCloseTo(expected, 12)
  })

  it.each([
    ['screw M8', 0.3125e-3],
    ['screw 8 mm', 2e-3],
    ['belt 20 GT2', 10e-3],
  ] as const)('an error of 0.09° on %s is %f mm (± 5 %% of 1.8°, computed)', (text, expected) => {
    expect(0.09 * modeOf(text, 200, 1).travel.perMotorDegree).toBeCloseTo(expected, 12)
  })
})

const figures: DriveFigures = {
  modes: [
    { microsteps: 1, verdict: 'holds', effective: { value: 1, low: 1, high: 1 }, largestIncrement: 1.1 },
    { microsteps: 4, verdict: 'fails', effective: { value: 1.3151918984, low: 1.2, high: 1.4 }, largestIncrement: 3 },
  ],
  reversalDeg: -0.36,
  markUDeg: 0.05,
}

describe('effective, guaranteed and reversal', () => {
  const travel = travelOf(
    train('gear 10:1 backlash 0.36 deg > screw 1 mm backlash 0.05 mm'),
    { stepsPerRev: 24, microsteps: 4 },
    figures,
  )
  const perFullStep = 1 / 240

  it('divides the full step by the effective count, low and high from the interval', () => {
    const effective = travel.modes.find(({ microsteps }) => microsteps === 4)?.effective
    expect(effective?.value).toBeCloseTo(perFullStep / 1.3151918984, 12)
    expect(effective?.low).toBeCloseTo(perFullStep / 1.4, 12)
    expect(effective?.high).toBeCloseTo(perFullStep / 1.2, 12)
  })

  it('guarantees the largest measured increment: three quarters of a full step when three of four merge', () => {
    expect(travel.modes.find(({ microsteps }) => microsteps === 4)?.guaranteed).toBeCloseTo((3 / 4) * perFullStep, 12)
    expect(travel.modes.find(({ microsteps }) => microsteps === 2)?.guaranteed).toBeNull()
  })

  it('adds play to reversal only: motor 0.36° behind 10 : 1, gear play 0.36° at the screw, nut 0.05 mm', () => {
    expect(travel.reversal.parts.map(({ source }) => source)).toEqual(['motor', 'gear 10:1', 'screw'])
    expect(travel.reversal.total).toBeCloseTo(0.0001 + 0.001 + 0.05, 12)
  })

  it('does not change with how a ratio is split into stages', () => {
    const one = travelOf(train('gear 12:1 > rotary'), { stepsPerRev: 200, microsteps: 2 })
    const two = travelOf(train('gear 40:10 > pulleys 60:20 > rotary'), { stepsPerRev: 200, microsteps: 2 })
    expect(two.perFullStep).toBeCloseTo(one.perFullStep, 12)
    expect(one.unit).toBe('deg')
  })

  it('refuses a motor without whole steps', () => {
    expect(() => travelOf(train('rotary'), { stepsPerRev: 0, microsteps: 1 })).toThrow(RangeError)
    expect(() => travelOf(train('rotary'), { stepsPerRev: 200, microsteps: 1.5 })).toThrow(RangeError)
  })
})
