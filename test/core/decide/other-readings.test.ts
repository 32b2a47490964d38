import { describe, expect, it } from 'vitest'
import { usualLimits } from '#core/decide/mode-increments'
import { judgeMode } from '#core/decide/mode-verdict'
import { otherCounting, withFeet } from '#core/decide/other-readings'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { slowErrorsOf } from '#core/rig/slow-errors'

const perDegree = Math.PI / 180
const fullStepDeg = 15
const even = Array.from({ length: 33 }, (_, k) => k * 3.75)
const jumping = even.map((rest, k) => (k === 10 ? rest + 3.75 : rest))

describe('a verdict that hangs on a counting', () => {
  const judged = (readings: readonly (readonly number[])[], other: readonly number[], labels: readonly string[]) =>
    judgeMode({ readings, others: [otherCounting(other, labels)], uDeg: even.map(() => 0.3), coverageFactor: 2, fullStepDeg, microsteps: 4, fullStepPlace: 0, limits: usualLimits }, 4)
  it('is not proven where the countings disagree, and says which labels would settle it', () => {
    for (const [chosen, other] of [[even, jumping], [jumping, even]] as const) {
      const { verdict, why } = judged([chosen], other, ['7', '12 (line 14)'])
      expect(verdict).toBe('not proven')
      expect(why).toMatch(/with a counting of the commands that the marks allow nearly as well, .*: write the command number beside marks 7, 12 \(line 14\) to settle it$/)
    }
  })
  it('stands where they agree', () => {
    expect(judged([even], even, ['7']).verdict).toBe('holds')
    expect(judged([jumping], jumping, ['7']).verdict).toBe('fails')
  })
})

describe('rests with the foot elsewhere', () => {
  // A spot on a wall moves by D·tan 2α from the foot (law of reflection); D = 1000 mm.
  const onWall = (shaftDeg: number): number => 1000 * Math.tan(2 * shaftDeg * perDegree)
  it('are those of the law of reflection with that foot', () => {
    const slow = slowErrorsOf({ kind: 'mirror', distanceMm: { value: 1000, u: 0 }, footMm: { value: 0, u: 100 / Math.sqrt(3) }, ratio: 2 }, 1)
    const anglesDeg = [0, 2, 5, 9]
    const [less, more] = withFeet(anglesDeg, slow, { startDeg: -4, sign: 1 })
    const seen = (footMm: number): number[] => anglesDeg.map((angle) => Math.atan((onWall(angle - 4) - footMm) / 1000) / perDegree / 2)
    for (const [reading, footMm] of [[less, -100], [more, 100]] as const)
      seen(footMm).forEach((angle, k) => expect(reading?.anglesDeg[k]).toBeCloseTo(angle - (seen(footMm)[0] ?? 0), 9))
  })
  it('leave a short trace on a near wall undecided that reads as failing with the middle for the foot', () => {
    // Even motor, 48 steps at 1/8, 26 marks about one end of the foot's range, wall at 60 mm: marks exact to 0.1 mm (simulated).
    const spot = (k: number): number => 60 * Math.tan(2 * (0.9375 * k) * perDegree)
    const rows = Array.from({ length: 26 }, (_, k) => spot(k).toFixed(4))
    const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 8', '# rig: mirror', '# position-unit: mm', '# distance: 60 mm', '# mark-uncertainty: 0.1 mm', 'position', ...rows].join('\n'))
    const result = 'marks' in trace ? measure(trace, { cause: false }) : trace
    expect('modes' in result && result.modes.map(({ verdict }) => verdict)).not.toContain('fails')
  })
})
