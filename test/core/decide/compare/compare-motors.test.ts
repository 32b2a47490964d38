import { describe, expect, it } from 'vitest'
import { compareMotors } from '#core/decide/compare/compare-motors'
import type { ComparedMotor } from '#core/decide/compare/compared-motor'
import { holm } from '#core/decide/compare/holm'
import { pairDifference } from '#core/decide/compare/pair-difference'
import type { Requirement } from '#core/decide/compare/requirement'
import { effectiveInterval } from '#core/figures/effective-interval'
import { positionErrors } from '#core/figures/position-errors'
import { normal, seededRandom } from '#core/numeric/seeded-random'

const noNeed: Requirement = { effective: null, mode: null, reversalDeg: null, resolutionDeg: null }

/** A simulated motor: 48 steps, 1/4, half a turn, one wave of order 4 and marks of u. */
const motorOf = (label: string, amplitudeDeg: number, random: () => number, more: Partial<ComparedMotor> = {}): ComparedMotor => {
  const u = 0.15
  const rests = Array.from({ length: 97 }, (_, k) => 1.875 * k + amplitudeDeg * Math.sin((Math.PI / 2) * k + 0.4) + u * normal(random))
  const errors = positionErrors(rests, 1.875)
  return {
    label,
    stepsPerRev: 48,
    microsteps: 4,
    effective: effectiveInterval(errors, { microsteps: 4, microstepDeg: 1.875, uDeg: u }),
    modes: [1, 2, 4].map((microsteps) => ({ microsteps, verdict: 'holds' as const })),
    reversal: null,
    errors: errors.slice(1).map((errorDeg, i) => ({ command: i + 1, errorDeg, uDeg: u })),
    ...more,
  }
}

describe('holm', () => {
  // Worked by hand from the definition: 4·0.005, 3·0.01, 2·0.03, 1·0.04 kept from falling.
  it('0.01, 0.04, 0.03, 0.005 become 0.03, 0.06, 0.06, 0.02', () => {
    expect(holm([0.01, 0.04, 0.03, 0.005]).map((p) => Number(p.toFixed(12)))).toEqual([0.03, 0.06, 0.06, 0.02])
  })
  it('never exceeds 1', () => expect(holm([0.5, 0.9])).toEqual([1, 1]))
})

describe('pairDifference', () => {
  it('finds a clear difference, paired cycle by cycle', () => {
    const random = seededRandom(1)
    const found = pairDifference(motorOf('a', 0.2, random), motorOf('b', 0.6, random))
    expect(found).toMatchObject({ method: 'paired by command', cycles: 6 })
    expect(found.ratio).toBeGreaterThan(1)
    expect(found.p).toBeLessThan(0.01)
  })
  it('calls like motors different about one time in twenty (400 pairs, three deviations of 1.1 %)', () => {
    const random = seededRandom(2)
    const alarms = Array.from({ length: 400 }, () => pairDifference(motorOf('a', 0.4, random), motorOf('b', 0.4, random)).p < 0.05).filter(Boolean).length
    expect(Math.abs(alarms / 400 - 0.05)).toBeLessThan(0.033)
  })
  it('falls back on the intervals where nothing can be paired', () => {
    const random = seededRandom(3)
    const other = motorOf('b', 0.4, random, { stepsPerRev: 24 })
    expect(pairDifference(motorOf('a', 0.4, random), other).method).toBe('from the intervals')
  })
  it('does not care for the order: p the same, ratio turned over', () => {
    const random = seededRandom(4)
    const [a, b] = [motorOf('a', 0.3, random), motorOf('b', 0.5, random)]
    expect(pairDifference(a, b).p).toBeCloseTo(pairDifference(b, a).p, 12)
    expect(pairDifference(a, b).ratio * pairDifference(b, a).ratio).toBeCloseTo(1, 12)
    const [there, back] = [pairDifference(a, b).ratioInterval, pairDifference(b, a).ratioInterval]
    expect((there?.[0] ?? 0) * (back?.[1] ?? 0)).toBeCloseTo(1, 12)
  })
})

describe('compareMotors', () => {
  const random = seededRandom(5)
  const fine = motorOf('fine', 0.1, random, { reversal: { deg: -0.5, uDeg: 0.02 } })
  const coarse = motorOf('coarse', 0.9, random, { reversal: { deg: -0.1, uDeg: 0.02 }, modes: [{ microsteps: 1, verdict: 'holds' }, { microsteps: 2, verdict: 'holds' }, { microsteps: 4, verdict: 'fails' }] })
  const order = (requirement: Partial<Requirement>): string[] => compareMotors([coarse, fine], { ...noNeed, ...requirement }).ranked.map(({ label, met }) => `${label} ${met}`)

  it('without a requirement the more effective one leads', () => expect(order({})).toEqual(['fine meets', 'coarse meets']))
  it('a mode that must hold rules out where it fails', () => expect(order({ mode: 4 })).toEqual(['fine meets', 'coarse misses']))
  it('a small reversal turns the ranking over', () => expect(order({ reversalDeg: 0.3 })).toEqual(['coarse meets', 'fine misses']))
  it('a reversal within its uncertainty of the limit is open', () => expect(order({ reversalDeg: 0.48 })).toEqual(['coarse meets', 'fine open']))
  it('a resolution is held against the whole interval', () => {
    const step = 360 / 48 / fine.effective.value
    expect(order({ resolutionDeg: step })).toEqual(['fine open', 'coarse misses'])
  })
  it('says that the second is told from the first', () => {
    expect(compareMotors([coarse, fine], noNeed).ranked.map(({ toldFromAbove }) => toldFromAbove)).toEqual([null, true])
  })
})
