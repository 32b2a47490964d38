import Qty from 'js-quantities'
import { describe, expect, it } from 'vitest'
import { readQuantity, readStated } from '#core/quantity/read-quantity'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { writeNumber } from '#core/quantity/write-number'
import { quantityIn, writeQuantity } from '#core/quantity/write-quantity'

const gee = Qty('1 gee').to('m/s^2').scalar
const ounce = Qty('1 oz').to('kg').scalar
const inch = Qty('1 in').to('m').scalar

describe('readQuantity takes its factors from the units library', () => {
  it.each([
    ['1 in', 'length', 25.4],
    ['41,78 mm', 'length', 41.78],
    ['.5in', 'length', 12.7],
    ['30 µm', 'length', 0.03],
    ['2.5 N·cm', 'torque', 0.025],
    ['2.5Ncm', 'torque', 0.025],
    ['40 mN·m', 'torque', 0.04],
    ['1 kg·cm', 'torque', gee * 0.01],
    ['1 kgf·cm', 'torque', gee * 0.01],
    ['1 oz·in', 'torque', ounce * gee * inch],
    ['1 ozf-in', 'torque', ounce * gee * inch],
    ['200 gf', 'force', 0.2 * gee],
    ['35 g·cm²', 'inertia', 35e-7],
    ['2.8 mH', 'inductance', 0.0028],
    ['1.5 Ω', 'resistance', 1.5],
    ['2 kΩ', 'resistance', 2000],
    ['600 mm/min', 'speed', 10],
    ['400 steps/s', 'step rate', 400],
    ['1 kHz', 'step rate', 1000],
    ['60 rev/min', 'turning speed', 60],
    ['1 rev/s', 'turning speed', 60],
    ['6′', 'angle', 0.1],
    ['7', 'length', 7],
  ] as const)('%s as %s', (text, kind, expected) => {
    expect(readQuantity(text, kind, 'x')).toBeCloseTo(expected, 12)
  })

  it('published conversion: 1 kgf = 9.80665 N exactly (standard gravity, CGPM 1901)', () => {
    expect(readQuantity('1 kgf', 'force', 'x')).toBeCloseTo(9.80665, 12)
  })

  it('keeps a stated uncertainty in the same unit', () => {
    expect(readStated('1.52 ± 0.003 m', 'length', 'x')).toEqual({
      value: expect.closeTo(1520, 9),
      u: expect.closeTo(3, 9),
    })
  })

  it.each(['', 'mm', '3 bananas', '3 kg', '1e999 mm', 'NaN', '3,264 mm', '--2 mm'])(
    'refuses "%s" as a length',
    (text) => {
      expect(isUnmeasurable(readQuantity(text, 'length', 'x'))).toBe(true)
    },
  )
})

describe('writing', () => {
  it('reads back what it wrote', () => {
    for (const unit of ['N·cm', 'kg·cm', 'oz·in'] as const) {
      const text = writeQuantity(0.4, 'torque', { unit, digits: 12 })
      expect(readQuantity(text, 'torque', 'x')).toBeCloseTo(0.4, 10)
    }
    expect(quantityIn(25.4, 'length', 'in')).toBeCloseTo(1, 12)
    expect(() => quantityIn(1, 'length', 'kg')).toThrow(RangeError)
  })

  it('never uses an exponent', () => {
    expect([
      writeNumber(0.0128039),
      writeNumber(3264, 7),
      writeNumber(1.5e-7),
      writeNumber(0),
      writeNumber(Number.NaN),
    ]).toEqual(['0.0128', '3264', '0.00000015', '0', '–'])
  })
})
