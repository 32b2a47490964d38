import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { countGaps } from '#core/numeric/count-gaps'
import type { GapProblem } from '#core/numeric/gap-table'

/** Every numbering of the marks that rises and keeps what is known, with its cost at its own best offset. */
const everyNumbering = ({ positions, total, known }: GapProblem): { counts: readonly number[]; cost: number }[] => {
  const last = positions.length - 1
  const found: { counts: readonly number[]; cost: number }[] = []
  const allowed = (m: number, count: number): boolean => (known?.[m] ?? count) === count
  const walk = (counts: readonly number[]): void => {
    const m = counts.length
    if (m === last) {
      const all = [...counts, total]
      const misses = positions.map((x, i) => x - (all[i] ?? 0))
      const centre = misses.reduce((sum, miss) => sum + miss, 0) / misses.length
      found.push({ counts: all, cost: misses.reduce((sum, miss) => sum + (miss - centre) ** 2, 0) })
      return
    }
    for (let next = (counts.at(-1) ?? 0) + 1; next <= total - (last - m); next++) if (allowed(m, next)) walk([...counts, next])
  }
  walk([0])
  return found
}

const problems = fc
  .tuple(fc.integer({ min: 3, max: 7 }), fc.integer({ min: 0, max: 5 }))
  .chain(([marks, extra]) =>
    fc.record({
      gaps: fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { minLength: marks - 1, maxLength: marks - 1 }),
      extra: fc.constant(extra),
      label: fc.option(fc.tuple(fc.integer({ min: 1, max: Math.max(1, marks - 2) }), fc.integer({ min: 0, max: extra }))),
    }),
  )
  .map(({ gaps, extra, label }): GapProblem => {
    let at = 0
    const positions = [0, ...gaps.map((gap) => (at += gap))]
    const known = label ? positions.map((_, m) => (m === label[0] ? label[0] + label[1] : null)) : undefined
    return { positions, total: positions.length - 1 + extra, ...(known ? { known } : {}) }
  })

// Reference: exhaustive search over all numberings, labels kept.
describe('countGaps against exhaustive search', () => {
  it('finds the least cost of all, with and without a label', () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const least = Math.min(...everyNumbering(problem).map(({ cost }) => cost))
        expect(countGaps(problem)?.cost).toBeCloseTo(least, 9)
      }),
      { numRuns: 600, seed: 31 },
    )
  })

  it('gives each mark the exact cost of numbering it otherwise', () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const all = everyNumbering(problem).toSorted((a, b) => a.cost - b.cost)
        const found = countGaps(problem)
        const [best] = all
        if (!found || !best || (all[1]?.cost ?? Number.POSITIVE_INFINITY) - best.cost < 1e-9) return
        problem.positions.forEach((_, m) => {
          const other = all.find(({ counts }) => counts[m] !== best.counts[m])
          const margin = other ? other.cost - best.cost : Number.POSITIVE_INFINITY
          if (Number.isFinite(margin)) expect(found.margins[m]).toBeCloseTo(margin, 9)
          else expect(found.margins[m]).toBe(margin)
        })
      }),
      { numRuns: 400, seed: 32 },
    )
  })

  it('refuses labels that contradict the order, as the search finds none', () => {
    const problem = { positions: [0, 1, 2, 3], total: 3, known: [null, 2, 1, null] }
    expect(everyNumbering(problem)).toEqual([])
    expect(countGaps(problem)).toBeNull()
  })
})
