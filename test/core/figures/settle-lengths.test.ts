import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import type { Result } from '#core/report/result-schema'

const measured = (head: readonly string[], rows: readonly string[]): Result => {
  const trace = readTrace([...head, 'position,command', ...rows].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if ('kind' in result) throw new Error(result.what)
  return result
}

// Simulated: 200 steps, 1/8, a wave of 0.3 microstep once per full step: N_eff = 8/√(1 + 12·0.045) = 6.447 by the formula.
const microstepDeg = 0.225
const truth = 8 / Math.sqrt(1 + 12 * 0.045)
const restDeg = (k: number): number => microstepDeg * (k + 0.3 * Math.sin((2 * Math.PI * k) / 8 + 0.4))
const radians = Math.PI / 180
const motor = ['# steps-per-rev: 200', '# microsteps: 8']

const arcRows = (radius: number, commands: number, uMm = 0.05, seed = 5): string[] => {
  const random = seededRandom(seed)
  return Array.from({ length: commands + 1 }, (_, k) => `${(restDeg(k) * radians * radius + uMm * normal(random)).toFixed(4)},${k}`)
}

describe('a radius that was measured wrong', () => {
  const result = measured([...motor, '# rig: arc', '# radius: 200 mm', '# mark-uncertainty: 0.05 mm'], arcRows(203, 256))
  it('is found from the cycles and named', () => {
    const said = result.warnings.find((warning) => warning.includes('another radius')) ?? ''
    const [, fitted, u] = /another radius: ([\d.]+) ± ([\d.]+) mm, not 200 mm/.exec(said) ?? []
    expect(Math.abs(Number(fitted) - 203)).toBeLessThan(1.5 * Number(u))
  })
  it('no longer spoils the effective count', () => {
    expect(Math.abs(result.figures.effectiveMicrosteps.value / truth - 1)).toBeLessThan(0.03)
  })
  it('and the figures as they were before are given', () => {
    expect(result.rigFaults.before?.effectiveMicrosteps).toBeLessThan(0.9 * truth)
    expect(result.rigFaults.lengths.find(({ source }) => source === 'radius')).toMatchObject({ statedMm: 200, contradicts: true })
  })
})

describe('what the cycles cannot contradict', () => {
  it('a right radius stays as stated', () => {
    const { warnings, rigFaults } = measured([...motor, '# rig: arc', '# radius: 200 mm', '# mark-uncertainty: 0.05 mm'], arcRows(200, 256))
    expect(warnings.join(' ')).not.toMatch(/another radius/)
    expect(rigFaults.lengths.filter(({ source }) => source === 'radius')).toEqual([])
  })
  it('is contradicted falsely in about one trace of a hundred (300 simulated, binomial limit 9)', () => {
    const false1 = Array.from({ length: 300 }, (_, i) => measured([...motor, '# rig: arc', '# radius: 200 mm', '# mark-uncertainty: 0.05 mm'], arcRows(200, 96, 0.05, 100 + i))).filter(({ rigFaults }) => rigFaults.lengths.some(({ contradicts }) => contradicts))
    expect(false1.length).toBeLessThanOrEqual(9)
  })
  it('exact marks are left as they are', () => {
    const { rests } = measured([...motor, '# rig: arc', '# radius: 200 mm'], Array.from({ length: 129 }, (_, k) => `${restDeg(k) * radians * 200},${k}`))
    expect(rests.at(-1)?.angleDeg).toBeCloseTo(restDeg(128) - restDeg(0), 6)
  })
  it('nothing is fitted across lost electrical cycles', () => {
    const rows = arcRows(200, 256).map((row, k) => (k < 128 ? row : `${Number(row.split(',')[0]) - 7.2 * radians * 200},${k}`))
    const { warnings, rigFaults } = measured([...motor, '# rig: arc', '# radius: 200 mm', '# mark-uncertainty: 0.05 mm'], rows)
    expect(warnings.join(' ')).toMatch(/the motor lost an electrical cycle/)
    expect(rigFaults.lengths).toEqual([])
  })
})

describe('a foot of the perpendicular that nobody measured', () => {
  const wall = (startDeg: number, seed: number): Result => {
    const random = seededRandom(seed)
    const rows = Array.from({ length: 129 }, (_, k) => `${(1500 * Math.tan(2 * (startDeg + restDeg(k)) * radians) + 1 * normal(random)).toFixed(3)},${k}`)
    return measured([...motor, '# rig: mirror', '# distance: 1500 ± 5 mm', '# mark-uncertainty: 1 mm'], rows)
  }
  it('the interval of the effective count holds the truth, wherever the foot lies (60 simulated; 95 % ± 3 standard deviations)', () => {
    const held = Array.from({ length: 60 }, (_, i) => wall(-28 * (i / 59), i + 1).figures.effectiveMicrosteps).filter(({ low, high }) => low <= truth && truth <= high)
    expect(held.length).toBeGreaterThanOrEqual(51)
  })
  it('the foot itself is found', () => {
    const foot = wall(-10, 3).rigFaults.lengths.find(({ source }) => source.startsWith('foot'))
    expect(Math.abs(foot?.fittedMm ?? Number.NaN)).toBeLessThan(3 * (foot?.uMm ?? 0))
  })
})

describe('steps per revolution that do not fit', () => {
  it('48 called 50: said, with the number that would fit', () => {
    const random = seededRandom(8)
    const rows = Array.from({ length: 97 }, (_, k) => `${((360 / 192) * k + 0.05 * normal(random)).toFixed(3)},${k}`)
    const { warnings } = measured(['# steps-per-rev: 50', '# microsteps: 4', '# mark-uncertainty: 0.05 deg'], rows)
    expect(warnings.join(' ')).toMatch(/advance 4.2 % more than commanded.*a motor of 48 steps per turn would fit/)
  })
})
