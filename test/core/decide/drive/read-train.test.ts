import { describe, expect, it } from 'vitest'
import { readThread } from '#core/decide/drive/read-thread'
import { readTrain } from '#core/decide/drive/read-train'
import { beltPitches, metric, metricCoarse, trapezoidal } from '#core/decide/drive/standard-pitches'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'

describe('readTrain', () => {
  it('reads stages motor side first with their losses', () => {
    const read = readTrain('gear 17:2 backlash 30 arcmin efficiency 90 % ; worm 40:1 > screw 1/8 in', 'here')
    expect(isUnmeasurable(read)).toBe(true)
    expect(
      readTrain('gear 17:2 backlash 30 arcmin efficiency 90 % inertia 12 g·cm² > rack 20 module 1 mm', 'here'),
    ).toEqual({
      train: {
        name: 'gear 17:2 backlash 30 arcmin efficiency 90 % inertia 12 g·cm² > rack 20 module 1 mm',
        reductions: [
          {
            kind: 'gear',
            drivenTeeth: 17,
            drivingTeeth: 2,
            backlash: expect.closeTo(0.5, 12),
            efficiency: 0.9,
            inertiaKgM2: expect.closeTo(1.2e-6, 18),
          },
        ],
        output: { kind: 'rack', teeth: 20, pitchMm: Math.PI, backlash: 0, efficiency: 1, inertiaKgM2: 0 },
      },
      warnings: [],
    })
  })

  it.each([
    '',
    'gear 17:2',
    'screw 1 mm > gear 17:2',
    'drum 0 mm',
    'gear 17:0 > rotary',
    'screw 1 mm efficiency 120 %',
    'screw 1 kg',
    'belt many x 2 mm',
    'wheel 3 mm',
    'screw 1 mm backlash -1 mm',
  ])('refuses "%s" with a remedy', (text) => {
    const read = readTrain(text, 'here')
    expect(isUnmeasurable(read) && read.remedy.length > 0).toBe(true)
  })
})

describe('readThread', () => {
  it('takes lead / pitch as starts: Tr60x18(P9) LH has two (a public table of trapezoidal threads)', () => {
    expect(readThread('Tr60x18(P9) LH', 'x')).toMatchObject({ pitchMm: 9, starts: 2 })
    expect(readThread('Tr8x8(P2)', 'x')).toMatchObject({
      pitchMm: 2,
      starts: 4,
      warning: expect.stringContaining('not a listed'),
    })
    expect(readThread('Tr12x3', 'x')).toEqual({ pitchMm: 3, starts: 1, warning: null })
    expect(isUnmeasurable(readThread('Tr8x8(P3)', 'x'))).toBe(true)
  })

  it('reads fine pitches as written and coarse ones from the standard', () => {
    expect(readThread('M8x1', 'x')).toMatchObject({ pitchMm: 1 })
    expect(readThread('M8', 'x')).toMatchObject({ pitchMm: 1.25 })
    expect(isUnmeasurable(readThread('M7', 'x'))).toBe(true)
  })
})

describe('a metric thread whose pitch no table has', () => {
  it.each([
    ['screw', /the screw has no size; write it like screw M4/],
    ['screw Q4', /"Q4" is no thread and no pitch of a screw; write it like screw M4/],
    ['drum', /the drum has no size; write it like drum 13.3 mm/],
    ['belt', /the belt has no size; write it like belt 20 x 2 mm/],
  ])('says of "%s" what is wanted', (text, expected) => {
    const train = readTrain(text, 'here')
    expect(isUnmeasurable(train) ? sentenceOf(train) : 'read').toMatch(expected)
  })

  it.each(['M7x3', 'M8x1.5', 'M13x1'])('%s is read, and that is said', (text) => {
    expect(readThread(text, 'x')).toMatchObject({ pitchMm: Number(text.split('x')[1]), warning: expect.stringContaining('ISO 261') })
  })

  it.each(['M7x1', 'M8x1', 'M8', 'M10x1.25', 'M16'])('%s is listed (ISO 261, from memory)', (text) => {
    expect(readThread(text, 'x')).toMatchObject({ warning: null })
  })

  it('every coarse pitch on file is one of the table’s, and the largest', () => {
    for (const [diameter, pitch] of metricCoarse) expect(Math.max(...(metric.get(diameter) ?? []))).toBe(pitch)
  })
})

describe('tables of pitches', () => {
  it('inch sections are 0.080, 0.200, 0.375, 0.500, 0.875 and 1.250 in (suppliers citing ISO 5296)', () => {
    const inches = ['MXL', 'XL', 'L', 'H', 'XH', 'XXH'].map((section) => (beltPitches.get(section) ?? 0) / 25.4)
    expect(inches.map((pitch) => Number(pitch.toFixed(6)))).toEqual([0.08, 0.2, 0.375, 0.5, 0.875, 1.25])
  })

  it('pitches rise with diameter', () => {
    const coarse = [...metricCoarse.values()]
    expect([...coarse].sort((a, b) => a - b)).toEqual(coarse)
    expect([...trapezoidal.values()].every((pitches) => pitches.length > 0)).toBe(true)
  })
})
