import { centreDoubt } from '#core/detect/centre-doubt'
import { describe, expect, it } from 'vitest'

const arc = (fromDeg: number, toDeg: number, count: number, radius: number) =>
  Array.from({ length: count }, (_, i) => {
    const a = ((fromDeg + ((toDeg - fromDeg) * (i + 0.5)) / count) * Math.PI) / 180
    return [radius * Math.cos(a), radius * Math.sin(a)] as const
  })

describe('what a centre’s doubt leaves in bearings', () => {
  it('is u/R over a full turn, in whatever direction', () => {
    expect(centreDoubt(arc(0, 360, 72, 80), { centre: [0, 0], covariance: [0.04, 0, 0.04] })).toBeCloseTo(0.2 / 80, 12)
  })

  // Over ±φ about the middle bearing: along it u/R·√(½ − sin 2φ/4φ), across it u/R·√(½ + sin 2φ/4φ − (sin φ/φ)²) (integrals of sin², cos² by hand).
  it.each([[45, 0.4263, 0.0879], [60, 0.5415, 0.1511], [90, Math.SQRT1_2, 0.3078]])('over ±%f° is less, mostly from along the middle bearing', (half, along, across) => {
    const marks = arc(-half, half, 4000, 80)
    expect(centreDoubt(marks, { centre: [0, 0], covariance: [0.04, 0, 0] }) / (0.2 / 80)).toBeCloseTo(along, 3)
    expect(centreDoubt(marks, { centre: [0, 0], covariance: [0, 0, 0.04] }) / (0.2 / 80)).toBeCloseTo(across, 3)
  })

  it('is how far bearings about a centre that is off by that much are off (first order)', () => {
    const marks = arc(-50, 50, 40, 80)
    const off = [0.3, -0.1] as const
    const turns = marks.map(([x, y]) => Math.atan2(y - off[1], x - off[0]) - Math.atan2(y, x))
    const mean = turns.reduce((sum, v) => sum + v, 0) / turns.length
    const rms = Math.sqrt(turns.reduce((sum, v) => sum + (v - mean) ** 2, 0) / turns.length)
    // Second order: (0.3/80)² against 0.3/80.
    expect(centreDoubt(marks, { centre: [0, 0], covariance: [0.09, -0.03, 0.01] }) / rms).toBeCloseTo(1, 1)
  })

  it('is none without marks', () => {
    expect(centreDoubt([], { centre: [0, 0], covariance: [1, 0, 1] })).toBe(0)
  })
})
