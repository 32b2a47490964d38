import { describe, expect, it } from 'vitest'
import { dynamicsOf } from '#core/decide/drive/dynamics-of'
import { readLoad, wrongLoadText } from '#core/decide/drive/read-load'
import { readPullOut } from '#core/decide/drive/read-pull-out'
import { readTrain } from '#core/decide/drive/read-train'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

describe('pull-out points in words', () => {
  it('takes rate:torque pairs, N·m inside', () => {
    const points = readPullOut('200:20 N·cm, 800:8 N·cm', 'pull-out torque')
    expect(points).toEqual([{ stepRate: 200, torqueNm: expect.closeTo(0.2, 12) }, { stepRate: 800, torqueNm: expect.closeTo(0.08, 12) }])
  })
  it('keeps a decimal comma: "200:2,5 N·cm; 400:1 N·cm"', () => expect(readPullOut('200:2,5 N·cm; 400:1 N·cm', 'x')).toEqual([{ stepRate: 200, torqueNm: expect.closeTo(0.025, 12) }, { stepRate: 400, torqueNm: expect.closeTo(0.01, 12) }]))
  it('names what is no pair', () => expect(readPullOut('200', 'pull-out torque')).toMatchObject({ kind: 'unmeasurable', where: 'pull-out torque' }))
  it('is empty for empty text', () => expect(readPullOut('', 'x')).toEqual([]))
})

describe('load and torque data in words', () => {
  it('leaves out what is not typed', () => expect(readLoad({})).toEqual({ load: { massKg: 0, force: 0, tiltDeg: 0, acceleration: 0, speed: 0 }, torque: { holdingNm: null, rotorInertiaKgM2: null, pullOut: [] }, reversal: null }))

  // By hand: F·pitch/2π through a lossless screw: 3 N × 1.25 mm / 2π = 0.5968 mN·m; with 1.2 kg × 0.1 m/s² more: 3.12 N, 0.6207 mN·m.
  it('gives the torque at the motor that a screw asks for', () => {
    const read = readLoad({ mass: '1.2 kg', force: '3 N', acceleration: '100 mm/s²', holding: '40 N·cm' })
    const train = readTrain('screw M8', 'train')
    if (isUnmeasurable(read) || isUnmeasurable(train)) throw new Error('the texts can be read')
    const { torques } = dynamicsOf(train.train, { stepsPerRev: 48, microsteps: 4 }, read.load, read.torque)
    expect((torques[0]?.steadyNm ?? 0) * 1000).toBeCloseTo((3 * 1.25) / (2 * Math.PI), 9)
    expect((torques[0]?.acceleratingNm ?? 0) * 1000).toBeCloseTo((3.12 * 1.25) / (2 * Math.PI), 9)
  })

  it('names the line that cannot be read', () => {
    expect(readLoad({ mass: '1.2 kg', force: 'some' })).toMatchObject({ kind: 'unmeasurable', where: 'friction and other force' })
    expect(wrongLoadText('mass', 'heavy')).toMatchObject({ kind: 'unmeasurable' })
    expect(wrongLoadText('mass', '1 kg')).toBeNull()
  })
})
