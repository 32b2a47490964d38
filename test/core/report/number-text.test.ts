import { describe, expect, it } from 'vitest'
import { decimalsFor, fixed, intervalText, plainNumber, timesText, valueAndInterval, valueAndU, withUnit } from '#core/report/number-text'

// JCGM 100:2008, 7.2.2 and 7.2.4 (the mass of 100.021 47 g) and 7.2.6 (10.057 62 Ω with 27 mΩ), from memory.
describe('a value is rounded to two digits of its uncertainty', () => {
  it('writes (100.021 47 ± 0.000 79) g as the guide does', () => {
    expect(valueAndU(100.02147, 0.00079)).toBe('100.02147 ± 0.00079')
  })

  it('rounds 10.057 62 Ω with u = 27 mΩ to 10.058 Ω', () => {
    expect(valueAndU(10.05762, 0.027)).toBe('10.058 ± 0.027')
  })
})

describe('decimals for an uncertainty', () => {
  for (const [u, decimals] of [[0.0996, 2], [0.0994, 3], [0.1, 2], [1, 1], [9.96, 0], [25, 0], [340, -1]] as const)
    it(`${u} takes ${decimals}`, () => expect(decimalsFor(u)).toBe(decimals))

  it('rounds to tens where that is all there is', () => {
    expect(valueAndU(12_345, 340)).toBe('12350 ± 340')
  })
})

describe('signs and absent values', () => {
  it('writes a true minus, and no minus before zero', () => {
    expect(fixed(-1.5, 1)).toBe('−1.5')
    expect(fixed(-0.001, 1)).toBe('0.0')
    expect(plainNumber(-0.25)).toBe('−0.25')
  })

  it('writes a dash for what is not known, without a unit', () => {
    expect(withUnit(plainNumber(null), '°')).toBe('–')
    expect(valueAndU(null, 0.1)).toBe('–')
    expect(plainNumber(Number.NaN)).toBe('–')
  })

  it('leaves out an uncertainty of nothing', () => {
    expect(valueAndU(7.5, 0)).toBe('7.5')
    expect(valueAndU(7.5, null)).toBe('7.5')
  })
})

describe('intervals', () => {
  it('are rounded to two digits of half their width', () => {
    expect(valueAndInterval({ value: 3.8934780465, low: 3.7123, high: 4 })).toBe('3.89 (3.71 to 4.00)')
    expect(intervalText([-0.1061, 0.1061])).toBe('−0.11 to 0.11')
  })

  it('never show more than five digits, however narrow', () => {
    expect(valueAndInterval({ value: 1.3206863, low: 1.320628, high: 1.320686 })).toBe('1.3207 (1.3206 to 1.3207)')
  })

  it('of no width are the value alone', () => {
    expect(valueAndInterval({ value: 4, low: 4, high: 4 })).toBe('4')
  })
})

it('odds read as times', () => {
  expect(timesText(Math.log(4))).toBe('about 4 times')
  expect(timesText(76.5)).toBe('about 10³³ times')
})
