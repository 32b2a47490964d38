import { describe, expect, it } from 'vitest'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { measureWork } from '#core/review/measure-work'
import { namedByRow, refusedByRow } from '#core/review/named-by-row'
import { emptyWork, type Work } from '#core/review/work'

/** 24 steps at 1/4, a whole turn; row 21 stands alone; an empty row before it. */
const rows = Array.from({ length: 97 }, (_, k) => [(3.75 * k + 0.02 * ((k * 7) % 5) + (k === 20 ? 1.5 : 0)).toFixed(2), String(k)])
const work: Work = { ...emptyWork('x'), setUp: { 'steps-per-rev': '24', microsteps: '4', 'mark-uncertainty': '0.05 deg' }, rows: [...rows.slice(0, 4), [], ...rows.slice(4)] }

describe('marks of a typed test', () => {
  it('are named by their rows in the grid, not by lines that nobody sees there', () => {
    const result = measureWork(work, { cause: false })
    if (isUnmeasurable(result)) throw new Error(result.what)
    expect(result.warnings.join('\n')).toMatch(/^Mark 21 \(line 26\) stands alone/m)
    expect(namedByRow(result, work).warnings.join('\n')).toMatch(/^Mark 22 stands alone/m)
  })
})

describe('what stands in the way of a typed test', () => {
  const refusal = (changed: Partial<Work>) => {
    const bad = { ...work, ...changed }
    const outcome = measureWork(bad, { cause: false })
    if (!isUnmeasurable(outcome)) throw new Error('expected a refusal')
    return refusedByRow(outcome, bad)
  }

  it('is named by its row where a cell is at fault, and by its field where the set-up is', () => {
    expect(refusal({ rows: rows.with(6, ['x', '6']) }).where).toMatch(/^Row 7/)
    expect(refusal({ setUp: { ...work.setUp, microsteps: 'many' } }).where).toBe('set-up, microsteps')
  })
})
