import { describe, expect, it } from 'vitest'
import { readAmount } from '#core/quantity/read-amount'

describe('an amount that may be left out', () => {
  it('is null when nothing is typed', () => {
    expect(readAmount(undefined, 'mass', 'mass')).toBeNull()
    expect(readAmount('  ', 'mass', 'mass')).toBeNull()
  })
  it('comes in the unit of its kind: 1200 g are 1.2 kg', () => expect(readAmount('1200 g', 'mass', 'mass')).toBeCloseTo(1.2, 12))
  it('may be zero but not below', () => {
    expect(readAmount('0', 'force', 'force')).toBe(0)
    expect(readAmount('-3 N', 'force', 'force')).toMatchObject({ kind: 'unmeasurable', where: 'force' })
  })
})
