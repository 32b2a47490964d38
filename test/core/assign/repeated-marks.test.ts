import { describe, expect, it } from 'vitest'
import { repeatedMarks } from '#core/assign/repeated-marks'
import { splitPasses } from '#core/assign/split-passes'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import type { Result } from '#core/report/result-schema'
import type { LocatedMark } from '#core/rig/locate'

// Simulated marks: 48 steps, 1/4, δ = 1.875°, two thirds of a turn, no labels anywhere.
const last = 64
const commands = Array.from({ length: last + 1 }, (_, k) => k)
const random = seededRandom(5)
const at = (k: number, u: number): number => 1.875 * k + u * normal(random)
const mark = (angleDeg: number, i: number): LocatedMark => ({ line: i + 1, command: null, tally: null, pass: 1, direction: null, multiplicity: 1, angleDeg, uDeg: 0.1 })
const options = { microstepDeg: 1.875, fullStepDeg: 7.5, turnDeg: 360, ordered: true }

const measured = (rows: readonly string[], head: readonly string[] = []): Result => {
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.1 deg', ...head, ...rows].join('\n'))
  if (trace.kind !== 'trace') throw new Error(JSON.stringify(trace))
  const result = measure(trace, { cause: false })
  if ('kind' in result) throw new Error(JSON.stringify(result))
  return result
}

describe('every command marked several times, unlabelled', () => {
  it('three marks of a command one after the other: pass and command of every row come back', () => {
    const rows = commands.flatMap((k) => [1, 2, 3].map(() => at(k, 0.4)))
    const found = repeatedMarks(rows.map(mark), options)
    expect(found?.marks.map(({ command, pass }) => [command, pass])).toEqual(commands.flatMap((k) => [1, 2, 3].map((pass) => [k, pass])))
    expect(found?.warnings[0]).toMatch(/3 marks for each of 65 rest positions/)
  })
  it('so typed they are measured as three passes', () => {
    const result = measured(['position', ...commands.flatMap((k) => [1, 2, 3].map(() => at(k, 0.1).toFixed(4)))])
    expect(result.passes).toMatchObject({ outward: 3 })
    expect(result.assignment).toMatchObject({ commands: last, decidedBy: 'order' })
  })
  it('two short passes, one after the other', () => {
    const short = commands.slice(0, 8)
    const found = repeatedMarks([...short, ...short].map((k, i) => mark(at(k, 0.1), i)), options)
    expect(found?.marks.map(({ pass }) => pass)).toEqual(short.flatMap(() => [1, 2]))
  })
  it('now two marks, now four: counted, and a mark between two commands left out', () => {
    const rows = commands.flatMap((k) => Array.from({ length: 2 + (k % 3) }, (_, i) => (k === 30 && i === 0 ? 1.875 * 29.5 : at(k, 0.1))))
    const found = repeatedMarks(rows.map(mark), options)
    expect(new Set(found?.marks.map(({ command }) => command)).size).toBe(last + 1)
    expect(found?.decidedBy).toBe('fit')
    expect(found?.warnings[0]).toMatch(/which could belong to either of two, left out/)
  })
  it('one mark per command, a few written twice, is left to others', () => {
    expect(repeatedMarks([...commands, 64].map((k, i) => mark(at(k, 0.1), i)), options)).toBeNull()
  })
})

describe('several passes on one paper, marks in no order', () => {
  const heap = (u: number, times: number): LocatedMark[] => {
    const made = Array.from({ length: times }, () => commands.map((k) => at(k, u))).flat()
    return made.map((angle, i) => ({ angle, key: Math.sin(i * 7.3) })).sort((a, b) => a.key - b.key).map(({ angle }, i) => mark(angle, i))
  }
  it('falls apart into commands; every pass has each of them once', () => {
    const found = repeatedMarks(heap(0.15, 3), { ...options, ordered: false })
    for (const { angleDeg, command } of found?.marks ?? []) expect(Math.abs(angleDeg - 1.875 * (command ?? 0))).toBeLessThan(0.9)
    for (const pass of [1, 2, 3]) expect(found?.marks.filter((each) => each.pass === pass).map(({ command }) => command)).toEqual(commands)
  })
  it('no pass gets all the marks on one side, which would pass for a slip of the paper', () => {
    const found = repeatedMarks(heap(0.15, 2), { ...options, ordered: false })
    const offset = (pass: number): number => (found?.marks ?? []).filter((each) => each.pass === pass).reduce((sum, { angleDeg, command }) => sum + (angleDeg - 1.875 * (command ?? 0)) / (last + 1), 0)
    // standard error of the difference: 0.15°·√(2/65) = 0.026°
    expect(Math.abs(offset(1) - offset(2))).toBeLessThan(0.08)
  })
  it('where neighbours mix, nothing is given', () => {
    expect(repeatedMarks(heap(0.8, 3), { ...options, ordered: false })).toBeNull()
  })
  it('a whole turn begins and ends where two commands share their place', () => {
    const turn = Array.from({ length: 193 }, (_, k) => k)
    const made = [...turn, ...turn].map((k, i) => mark((at(k, 0.1) + 100) % 360, i))
    const found = repeatedMarks(made, { ...options, ordered: false })
    expect(found?.marks.filter(({ command }) => command === 0 || command === 192).every(({ angleDeg }) => Math.abs(angleDeg - 100) < 0.6)).toBe(true)
  })
})

describe('there and back: the number of rows says where the shaft turned', () => {
  const way = (from: number, to: number): number[] => Array.from({ length: Math.abs(to - from) + 1 }, (_, i) => from + Math.sign(to - from) * i)
  const passesOf = (walk: readonly number[]): string[] => {
    // u = 0.4 microsteps: the furthest mark is often not the one at the turn
    const { marks } = splitPasses(walk.map((k, i) => mark(at(k, 0.75), i)), options)
    return [1, 2].flatMap((pass) => ([1, -1] as const).map((direction) => `${pass}/${direction}: ${marks.filter((each) => each.pass === pass && each.direction === direction).length}`))
  }
  it.each([
    ['one mark at each turn', [...way(0, last), ...way(last - 1, 0), ...way(1, last), ...way(last - 1, 0)]],
    ['two marks at each turn', [...way(0, last), ...way(last, 0), ...way(0, last), ...way(last, 0)]],
    ['two marks back at the start', [...way(0, last), ...way(last - 1, 0), ...way(0, last), ...way(last - 1, 0)]],
    ['two marks far out', [...way(0, last), ...way(last, 0), ...way(1, last), ...way(last, 0)]],
  ])('%s: every way holds all commands', (_, walk) => {
    expect(passesOf(walk)).toEqual(['1/1: 65', '1/-1: 65', '2/1: 65', '2/-1: 65'])
  })
})
