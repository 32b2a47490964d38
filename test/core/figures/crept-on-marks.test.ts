import { describe, expect, it } from 'vitest'
import { creptOnMarks } from '#core/figures/crept-on-marks'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

describe('commands on one mark', () => {
  // by hand: three commands on the mark at 3 may have gone on by 0.6 in two steps; the pair at 7 by 0.6 in one, at most 1
  it('crept on evenly, by as much as cannot be told apart', () => {
    const crept = creptOnMarks([0, 3, 3, 3, 7, 7], { expandedDeg: 0.6, microstepDeg: 1 }) ?? []
    const byHand = [0, 3, 3.3, 3.6, 7, 7.6]
    byHand.forEach((angle, k) => expect(crept[k]).toBeCloseTo(angle, 12))
  })
  it('no further than commanded', () => expect(creptOnMarks([0, 2, 2], { expandedDeg: 5, microstepDeg: 1 })).toEqual([0, 2, 3]))
  it('says nothing where every command has its own mark, and with marks known exactly', () => {
    expect(creptOnMarks([0, 1, 2], { expandedDeg: 0.6, microstepDeg: 1 })).toBeNull()
    expect(creptOnMarks([0, 2, 2], { expandedDeg: 0, microstepDeg: 1 })).toBeNull()
  })

  // A motor that jumps once per full step and creeps 0.09 microsteps in each of three more commands (0.27 in all; two marks of
  // 0.2° = 0.107 microsteps cannot be told apart below 0.30): errors −0.91·(0, 1, 2, 3), variance 0.91²·5/4, N_eff = 4/√(1 + 15·0.91²).
  it('the interval of N_eff holds a motor that crept unseen on its marks', () => {
    const rows = Array.from({ length: 25 }, (_, full) => `${(7.5 * full).toFixed(2)},${full === 0 ? 0 : 4}`)
    const read = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.2 deg', 'position,tally', ...rows].join('\n'))
    const result = isUnmeasurable(read) ? read : measure(read, { cause: false })
    if ('kind' in result) throw new Error(result.what)
    const truth = 4 / Math.sqrt(1 + 15 * 0.91 ** 2)
    expect(result.figures.effectiveMicrosteps.value).toBeCloseTo(1, 1)
    expect(result.figures.effectiveMicrosteps.high).toBeGreaterThanOrEqual(truth)
  })
})
