import { describe, expect, it } from 'vitest'
import { shiftOnTheWay } from '#core/figures/shift-on-the-way'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated: 1/4 of a 48-step motor with a fourth-order error of 0.5°, on a dial 0.8 mm off its centre at 80 mm (0.573°) and looked at 10° aslant (0.435°), u 0.1°.
const microstepDeg = 1.875
const degrees = 180 / Math.PI
const dial = (k: number): number => {
  const angle = (microstepDeg * k) / degrees
  const [x, y] = [80 * Math.cos(angle) + 0.7, (80 * Math.sin(angle) + 0.4) * Math.cos(10 / degrees)]
  return Math.atan2(x * Math.sin(-angle) + y * Math.cos(angle), x * Math.cos(angle) + y * Math.sin(angle)) * degrees
}
const errors = (seed: number, moved: (k: number) => number, rests = 193): number[] => {
  const random = seededRandom(seed)
  return Array.from({ length: rests }, (_, k) => 0.5 * Math.sin(Math.PI * k * 0.5 + 0.3) + dial(k) + moved(k) + 0.1 * normal(random))
}
const options = { microsteps: 4, perTurn: 192, uDeg: 0.1 }
const found = (moved: (k: number) => number, rests?: number) => Array.from({ length: 40 }, (_, seed) => shiftOnTheWay(errors(seed, moved, rests), options))

describe('paper or pointer that moved while one run was marked', () => {
  const slipped = found((k) => (k >= 120 ? 1 : 0))
  it('a slip of half a microstep is found at its command in 38 of 40, and within 0.2°', () => expect(slipped.filter((shift) => shift?.kind === 'slip' && Math.abs(shift.place - 120) <= 1 && Math.abs(shift.deg - 1) < 0.2).length).toBeGreaterThanOrEqual(38))
  it('over part of a turn too', () => expect(found((k) => (k >= 70 ? -1 : 0), 130).filter((shift) => shift?.kind === 'slip' && Math.abs(shift.place - 70) <= 1).length).toBeGreaterThanOrEqual(36))
  it('a creep of one microstep over a whole turn', () => expect(found((k) => (1.875 * k) / 192).filter((shift) => shift?.kind === 'creep').length).toBeGreaterThanOrEqual(38))
  it('a dial off its centre and looked at aslant is none', () => expect([...found(() => 0), ...found(() => 0, 130)].filter((shift) => shift !== null)).toEqual([]))
  it('what comes and goes again is no slip', () => expect(found((k) => (k >= 60 && k < 130 ? 1 : 0)).filter((shift) => shift !== null)).toEqual([]))
  it('four cycles are wanted', () => expect(shiftOnTheWay(errors(1, (k) => (k >= 30 ? 1 : 0), 60), options)).toBeNull())
})

const measured = (moved: (k: number) => number) => {
  const rows = errors(3, moved).map((error, k) => `${(microstepDeg * k + error).toFixed(2)},${k}`)
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.1 deg', 'position,command', ...rows].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if (!('figures' in result)) throw new Error(result.what)
  return result
}

describe('what a result says of it', () => {
  it('a slip is named with its command, and no dial off its centre is blamed', () => {
    const { warnings, rigFaults } = measured((k) => (k >= 120 ? 1 : 0))
    expect(warnings.join()).toMatch(/From about command 1(19|20|21) on all marks stand (0\.9|1\.0|1\.1)\d*° further on.*paper or pointer slipped there/)
    expect(rigFaults.removed).toEqual([])
  })
  it('a slip of 0.7 of a microstep is no command lost on its way', () => {
    const said = measured((k) => (k >= 120 ? -0.7 * microstepDeg : 0)).warnings.join()
    expect(said).toMatch(/paper or pointer slipped there/)
    expect(said).not.toMatch(/was lost there/)
  })
  it('a slip that comes back wanders from cycle to cycle, over a whole turn too', () => expect(measured((k) => (k >= 60 && k < 130 ? 1 : 0)).warnings.join()).toMatch(/wander by .*neither a motor in step/))
  it('without any the dial is taken off, and nothing is said', () => {
    const { warnings, rigFaults } = measured(() => 0)
    expect(rigFaults.removed.map(({ order }) => order)).toEqual([1, 2])
    expect(warnings.join()).not.toMatch(/paper or pointer/)
  })
})
