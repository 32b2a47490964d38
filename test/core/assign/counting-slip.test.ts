import { describe, expect, it } from 'vitest'
import { countingSlip } from '#core/assign/counting-slip'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import type { Result } from '#core/report/result-schema'

// Simulated marks: 48 steps, 1/4, a wave twice per electrical cycle, u = 0.2 microstep; one command per mark but for the slip.
const rests = (commands: readonly number[], seed: number): number[] => {
  const random = seededRandom(seed)
  return commands.map((k) => 1.875 * (k + 0.4 * Math.sin((Math.PI * k) / 4) + 0.2 * normal(random)))
}

const measured = (head: readonly string[], positions: readonly (number | string)[]): Result => {
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', ...head, 'position', ...positions].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if ('kind' in result) throw new Error(result.what)
  return result
}

const up = Array.from({ length: 98 }, (_, k) => k)

describe('a mark drawn twice among unlabelled marks', () => {
  const result = measured(['# mark-uncertainty: 0.375 deg'], rests([...up.slice(0, 60), 59, ...up.slice(60)], 3))
  it('is left out of the count, and said', () => {
    expect(result.assignment).toMatchObject({ commands: 97, marks: 98 })
    expect(result.warnings.join(' ')).toMatch(/one was drawn twice/)
  })
  it('the rests beyond it stand where they should', () => {
    expect(Math.abs(result.rests[97]?.angleDeg ?? 0 - 1.875 * 97)).toBeLessThan(190)
    expect(result.figures.effectiveMicrosteps.value).toBeGreaterThan(2.6)
  })
  it('the same on an arc whose radius is 1 % off', () => {
    const arc = measured(['# rig: arc', '# radius: 99 mm', '# mark-uncertainty: 0.65 mm'], rests([...up.slice(0, 60), 59, ...up.slice(60)], 4).map((deg) => (deg * Math.PI * 100) / 180))
    expect(arc.assignment.commands).toBe(97)
  })
})

describe('a mark left out among unlabelled marks', () => {
  it('its command is counted all the same', () => {
    const { assignment, warnings } = measured(['# mark-uncertainty: 0.375 deg'], rests(up.filter((k) => k !== 41), 5))
    expect(assignment.commands).toBe(97)
    expect(warnings.join(' ')).toMatch(/a mark was left out/)
  })
})

describe('marks without a slip', () => {
  it('are not mended (100 simulated)', () => {
    const commands = Array.from({ length: 100 }, (_, seed) => measured(['# mark-uncertainty: 0.375 deg'], rests(up, 100 + seed)).assignment.commands)
    expect(commands.filter((count) => count !== 97)).toEqual([])
  })
})

describe('order and sense of travel', () => {
  it('a whole turn typed in no order holds its start twice', () => {
    const random = seededRandom(9)
    const shuffled = rests(Array.from({ length: 193 }, (_, k) => k), 6).map((deg) => [random(), (((deg % 360) + 360) % 360).toFixed(3)] as const).sort(([a], [b]) => a - b)
    expect(measured(['# mark-uncertainty: 0.375 deg'], shuffled.map(([, row]) => row)).assignment.commands).toBe(192)
  })
  it('lost cycles that bring the shaft back nearly to its start do not turn its sense round', () => {
    const rows = Array.from({ length: 75 }, (_, k) => `${(1.875 * k - (k < 12 ? 0 : 60)).toFixed(3)},${k}`)
    const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', 'position,command', ...rows].join('\n'))
    const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
    expect('kind' in result ? result.what : result.warnings.join(' ')).toMatch(/8.0 full steps behind their commands, a multiple of four/)
  })
})

it.each([0, 1.2, 3.6, 4.8])('less than two cycles of an uneven motor are no slip: an order 1 of 0.8 microsteps, phase %s, 28 marks on a wall', (phase) => {
  const positions = Array.from({ length: 28 }, (_, k) => k + 0.8 * Math.sin((Math.PI / 8) * k + phase))
  expect(countingSlip(positions, { microsteps: 4, bend: 2 })).toBeNull()
})

it('a slow wave about a dial off its centre is no slip: a turn of 768 marks, 0.5 microsteps once per turn, u = 0.05', () => {
  const random = seededRandom(11)
  const positions = Array.from({ length: 769 }, (_, k) => k + 0.5 * Math.sin((2 * Math.PI * k) / 768 + 1) + 0.3 * Math.sin((Math.PI / 4) * k) + 0.05 * normal(random))
  expect(countingSlip(positions, { microsteps: 4, bend: 0 })).toBeNull()
})

it('a whole turn with a mark of its own at the end that stands short of the start is one command each', () => {
  // The first command lost 0.8 of a microstep in the dead band, so the turn ends that much short.
  const positions = Array.from({ length: 193 }, (_, k) => (k === 0 ? 0 : 1.875 * (k - 0.8)).toFixed(3))
  expect(measured(['# mark-uncertainty: 0.05 deg'], positions).assignment).toMatchObject({ commands: 192, marks: 193, closed: false })
})

it('a scale 1.5 % too long is no slip, wherever a step would do best: 257 marks, an order 4 of 0.3 microsteps, u = 0.06', () => {
  const random = seededRandom(12)
  const positions = Array.from({ length: 257 }, (_, k) => 1.0149 * k + 0.3 * Math.sin((Math.PI / 4) * k + 0.4) + 0.06 * normal(random))
  expect(countingSlip(positions, { microsteps: 8, bend: 0 })).toBeNull()
})
