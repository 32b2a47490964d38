import { describe, expect, it } from 'vitest'
import { readingStep } from '#core/rig/reading-step'

describe('the step to which lengths were read', () => {
  it('half millimetres typed with two decimals', () => {
    expect(readingStep(Array.from({ length: 20 }, (_, i) => 3.5 + 1.5 * i + (i % 3) / 2), 0.01)).toBe(0.5)
  })
  it('the last digit where the positions use it', () => {
    expect(readingStep(Array.from({ length: 20 }, (_, i) => 3.51 + 1.37 * i), 0.01)).toBe(0.01)
  })
  it('the last digit with too few positions to tell', () => {
    expect(readingStep([0, 2.5, 5, 7.5], 0.01)).toBe(0.01)
  })
  it('half degrees on a dial, but not positions worked out from whole microsteps', () => {
    const read = Array.from({ length: 40 }, (_, k) => Math.round((1.875 * k) / 0.5) * 0.5)
    expect(readingStep(read, 0.01, 1.875)).toBe(0.5)
    expect(readingStep(Array.from({ length: 40 }, (_, k) => 7.5 * Math.floor(k / 4)), 0.1, 1.875)).toBe(0.1)
  })
})
