import { describe, expect, it } from 'vitest'
import { chooseDrive } from '#core/decide/drive/choose-drive'
import type { DriveFigures, ModeFigures } from '#core/decide/drive/drive-figures'
import { figuresOfRests } from '#core/decide/drive/figures-of-rests'
import { idleLoad } from '#core/decide/drive/load'
import { readTrain } from '#core/decide/drive/read-train'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const trains = (...texts: readonly string[]) =>
  texts.map((text) => {
    const read = readTrain(text, 'test')
    if (isUnmeasurable(read)) throw new Error(read.what)
    return read.train
  })

const motor = { stepsPerRev: 200, microsteps: 4 }
const noTorque = { holdingNm: null, rotorInertiaKgM2: null, pullOut: [] }
const mode = (microsteps: number, verdict: ModeFigures['verdict'], largestIncrement: number): ModeFigures => ({
  microsteps,
  verdict,
  largestIncrement,
  effective: null,
})
const measured = (...modes: readonly ModeFigures[]): DriveFigures => ({ modes, reversalDeg: 0.02, markUDeg: 0.05 })
const wanted = (resolution: number) => ({ resolution, reversal: null, travel: 100, load: idleLoad })

describe('chooseDrive', () => {
  const halfHolds = measured(mode(1, 'holds', 1.05), mode(2, 'holds', 1.2), mode(4, 'fails', 1.9))

  it('takes the coarsest mode that holds and meets the resolution, since fewer microsteps keep more torque per step', () => {
    const table = chooseDrive(wanted(0.02), trains('screw M8'), motor, { figures: halfHolds, torque: noTorque })
    expect(table.best).toMatchObject({ microsteps: 1, commandsForTravel: 16_000 })
    expect(table.recommendation).toContain('full steps')
  })

  it('decides half against full stepping from the measured trace', () => {
    const half = chooseDrive(wanted(0.004), trains('screw M8'), motor, { figures: halfHolds, torque: noTorque })
    expect(half.best?.microsteps).toBe(2)
    const fails = measured(mode(1, 'holds', 1.05), mode(2, 'fails', 1.8), mode(4, 'fails', 2.4))
    const full = chooseDrive(wanted(0.004), trains('screw M8'), motor, { figures: fails, torque: noTorque })
    expect(full.best).toBeNull()
    expect(full.recommendation).toContain('stay with full steps')
    expect(full.recommendation).toMatch(/further reduction of 1\.64 : 1/) // 6.5625 µm against 4 µm
  })

  it('proves nothing without a measured trace', () => {
    const table = chooseDrive(wanted(0.02), trains('screw M8', 'belt 20 GT2'), motor, { torque: noTorque })
    expect(table.best).toBeNull()
    expect(table.choices.find(({ train }) => train === 'screw M8')?.answer).toBe('not proven')
    expect(
      table.choices.filter(({ train, microsteps }) => train === 'belt 20 GT2' && microsteps === 1)[0]?.answer,
    ).toBe('fail')
  })

  it('fails a reversal smaller than the stated backlash', () => {
    const table = chooseDrive({ ...wanted(0.02), reversal: 0.01 }, trains('screw M8 backlash 0.05 mm'), motor, {
      figures: halfHolds,
      torque: noTorque,
    })
    expect(table.choices.every(({ answer }) => answer === 'fail')).toBe(true)
  })
})

describe('figuresOfRests', () => {
  it('24 steps, three commands in one jump then one, N = 4: full steps even, half steps 3 : 1, one jump of three microsteps', () => {
    const rests = Array.from({ length: 97 }, (_, command) => {
      const angleDeg = Math.floor(command / 4) * 15 + (command % 4 === 0 ? 0 : 11.25)
      return { command, angleDeg, errorDeg: angleDeg - command * 3.75 }
    })
    const figures = figuresOfRests({
      motor: { stepsPerRev: 24, microsteps: 4 },
      fullStepCommand: 0,
      rests,
      effective: { value: 1.3151918984, low: 1.2, high: 1.4 },
      modes: [1, 2, 4].map((microsteps) => ({ microsteps, verdict: 'fails' as const })),
      reversalDeg: null,
      markUDeg: null,
    })
    expect(figures.modes.map(({ effective }) => effective?.value)).toEqual([
      1,
      expect.closeTo(2 / Math.sqrt(1 + 12 * 0.0625), 9),
      1.3151918984,
    ])
    expect(figures.modes.map(({ largestIncrement }) => largestIncrement)).toEqual([1, 1.5, 3])
  })
})
