import { describe, expect, it } from 'vitest'
import { countGaps } from '#core/numeric/count-gaps'

/** Small repeatable generator (a linear congruential one, Knuth's MMIX constants cut to 32 bits). */
const chance = (seed: number) => () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0
  return seed / 2 ** 32
}

/** Every strictly rising numbering of the marks, tried one by one. */
const bruteForce = (positions: readonly number[], total: number): { cost: number; ties: number } => {
  let best = Number.POSITIVE_INFINITY
  let ties = 0
  const walk = (numbers: number[]): void => {
    if (numbers.length === positions.length - 1) {
      const misses = positions.map((x, m) => x - (m === positions.length - 1 ? total : (numbers[m] as number)))
      const mean = misses.reduce((a, b) => a + b, 0) / misses.length
      const cost = misses.reduce((sum, miss) => sum + (miss - mean) ** 2, 0)
      if (Math.abs(cost - best) < 1e-9) ties++
      else if (cost < best) {
        best = cost
        ties = 0
      }
      return
    }
    const last = numbers.at(-1) as number
    for (let next = last + 1; next <= total - (positions.length - 1 - numbers.length); next++) walk([...numbers, next])
  }
  walk([0])
  return { cost: best, ties }
}

describe('countGaps', () => {
  it('gives three and one to gaps of three and one', () => {
    expect(countGaps({ positions: [0, 3, 4, 7, 8], total: 8 })?.counts).toEqual([0, 3, 4, 7, 8])
  })

  it('equals brute force on every small case of a seeded pile (reference: exhaustive search)', () => {
    const draw = chance(7)
    for (let round = 0; round < 400; round++) {
      const marks = 2 + Math.floor(draw() * 6)
      const total = marks - 1 + Math.floor(draw() * 6)
      let at = 0
      const positions = Array.from({ length: marks }, (_, m) => {
        if (m > 0) at += draw() * 3
        return at
      })
      const found = countGaps({ positions, total })
      expect(found?.cost).toBeCloseTo(bruteForce(positions, total).cost, 9)
    }
  })

  it('keeps numbers that were known beforehand', () => {
    expect(countGaps({ positions: [0, 1.4, 3], total: 3, known: [null, 2, null] })?.counts).toEqual([0, 2, 3])
  })

  it('puts no margin on a mark that stands half way', () => {
    const found = countGaps({ positions: [0, 1.5, 3], total: 3 })
    expect(found?.margins[1]).toBeLessThan(0.1)
  })

  it('refuses more marks than counts', () => {
    expect(countGaps({ positions: [0, 1, 2, 3], total: 2 })).toBeNull()
  })
})
