import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import type { Result } from '#core/report/result-schema'

const measured = (rows: readonly string[], head: readonly string[] = []): Result => {
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.1 deg', ...head, ...rows].join('\n'))
  if (trace.kind !== 'trace') throw new Error(JSON.stringify(trace))
  const result = measure(trace, { cause: false })
  if ('kind' in result) throw new Error(JSON.stringify(result))
  return result
}

// Simulated marks: 48 steps, 1/4, u = 0.1°, no labels anywhere.
const random = seededRandom(21)
const noisy = (k: number): number => 1.875 * k + 0.1 * normal(random)
const way = (commands: readonly number[]): string[] => commands.map((k) => noisy(k).toFixed(4))
const up = Array.from({ length: 97 }, (_, k) => k)

describe('several passes without labels', () => {
  it('three passes over half a dial, typed one after another', () => {
    const result = measured(['position', ...way(up), ...way(up), ...way(up)])
    expect(result.passes).toMatchObject({ outward: 3, back: 0, drift: 'none' })
    expect(result.assignment).toMatchObject({ commands: 96, marks: 97, decidedBy: 'order' })
    expect(result.warnings.join(' ')).toMatch(/read as several passes \(marks 1 \(line \d+\) to 97 \(line \d+\) pass 1, marks 98 /)
  })
  it('there and back again: the return counts down from where the shaft turned', () => {
    const result = measured(['position', ...way(up), ...up.toReversed().slice(1).map((k) => (noisy(k) + 0.5).toFixed(4))])
    expect(result.passes).toMatchObject({ outward: 1, back: 1 })
    expect(result.directions?.reversalDeg).toBeCloseTo(-0.5, 1)
  })
  it('the same typed along an arc in millimetres', () => {
    const arc = (k: number): string => ((noisy(k) * Math.PI) / 180 * 80).toFixed(3)
    const result = measured(['position', ...up.map(arc), ...up.map(arc)], ['# rig: arc', '# radius: 80 mm'])
    expect(result.passes.outward).toBe(2)
  })
  it('a single reversed microstep is no return', () => {
    const rows = up.map((k) => (1.875 * (k === 40 ? 38.5 : k)).toFixed(4))
    expect(measured(['position', ...rows]).passes).toMatchObject({ outward: 1, back: 0 })
  })
})

describe('other marks without labels', () => {
  it('the direction of travel and the number of commands are found', () => {
    const result = measured(['position', ...up.map((k) => (-noisy(k)).toFixed(4))])
    expect(result.assignment.commands).toBe(96)
    expect(result.rests.at(-1)?.angleDeg).toBeCloseTo(180, 0)
  })
  it('a mark left out: its gap holds two commands, and both readings of that are said', () => {
    const result = measured(['position', ...way(up.filter((k) => k !== 31))])
    expect(result.assignment).toMatchObject({ commands: 96, marks: 96, decidedBy: 'fit', jumpsUnknown: true })
    expect(result.warnings.join(' ')).toMatch(/\(2 commands\): a mark was left out there, or those microsteps merged/)
  })
  it('rows in no order are read along the dial, and said so', () => {
    const shuffled = up.map((k) => [random(), noisy(k).toFixed(4)] as const).sort(([a], [b]) => a - b).map(([, row]) => row)
    const result = measured(['position', ...shuffled])
    expect(result.assignment.commands).toBe(96)
    expect(result.warnings.join(' ')).toMatch(/no order of travel/)
  })
  it('one row typed ten times too large leaves the others in order, and is named', () => {
    const result = measured(['position', ...up.slice(0, 33).map((k) => ((k === 9 ? 10 : 1) * noisy(k)).toFixed(2))])
    expect(result.assignment.commands).toBe(32)
    expect(result.warnings.join(' ')).toMatch(/Mark 10 \(line \d+\) stands alone, 15\d° off .* slip of the hand or of the typing/)
  })
  it('an unknown start phase is found: full steps begin at the command whose steps come out most even', () => {
    const rests = up.map((k) => {
      const shifted = k + 3
      return 1.875 * (4 * Math.floor(shifted / 4) + (shifted % 4 === 0 ? 0 : 2 + 0.2 * (shifted % 4)) - 3)
    })
    const result = measured(['position,command', ...rests.map((angle, k) => `${(angle + 0.05 * (k % 16 > 7 ? 1 : -1) * (k % 4 === 1 ? 0 : 1)).toFixed(4)},${k}`)])
    expect(result.settings.fullStepCommand).toEqual({ command: 1, decidedBy: 'fit' })
  })
})

describe('the shortest list of labels that settles it', () => {
  // Two marks stand half way between two places, far apart: each needs a label of its own, nothing else does.
  const places = Array.from({ length: 41 }, (_, k) => k).filter((k) => k % 10 !== 5)
  const rows = places.map((k) => (1.875 * (k === 14 || k === 34 ? k + 0.49 : k)).toFixed(5))
  const result = measured(['position', ...rows])
  it('asks for just these two', () => {
    expect(result.assignment.ambiguous).toBe(true)
    const asked = result.assignment.labelsToSettle.map((line) => rows[line - 5])
    expect(asked).toEqual([rows[places.indexOf(14)], rows[places.indexOf(34)]])
  })
  it('and with them nothing is left open', () => {
    const labels = new Map([[14, 14], [34, 34]])
    const settled = measured(['position,command', ...places.map((k, i) => `${rows[i]},${labels.get(k) ?? ''}`)])
    expect(settled.assignment.ambiguous).toBe(false)
    expect(settled.assignment.labelsToSettle).toEqual([])
  })
  it('gives each mark its log odds', () => {
    expect(result.assignment.logOdds).toHaveLength(result.assignment.marks)
    expect(Math.min(...result.assignment.logOdds.map((odds) => odds ?? Number.POSITIVE_INFINITY))).toBeLessThan(3)
  })
})

describe('a start mark that counts itself in its tally', () => {
  const rows = (start: number): string[] => Array.from({ length: 33 }, (_, k) => `${(1.875 * k).toFixed(3)},${k === 0 ? start : 1}`)
  const headed = (head: readonly string[], start: number) => {
    const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.1 deg', ...head, 'position,tally', ...rows(start)].join('\n'))
    const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
    if ('kind' in result) throw new Error(result.what)
    return { ...result, finest: result.modes.at(-1)?.verdict }
  }
  it('is said, and no mode fails by it', () => {
    const result = headed([], 1)
    expect(result.warnings.join(' ')).toMatch(/start mark has a tally of 1/)
    expect(result.finest).toBe('not proven')
  })
  it('the number of commands settles it', () => {
    expect(headed(['# commands: 32'], 1)).toMatchObject({ assignment: { commands: 32 }, finest: 'holds' })
    expect(headed(['# commands: 33'], 1)).toMatchObject({ assignment: { commands: 33 }, finest: 'fails' })
    expect(headed([], 0)).toMatchObject({ assignment: { commands: 32 }, finest: 'holds' })
  })
})
