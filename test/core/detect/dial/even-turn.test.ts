import { evenTurn } from '#core/detect/dial/even-turn'
import { bearing } from '#core/detect/plane-map'
import { seededRandom } from '#core/numeric/seeded-random'
import { describe, expect, it } from 'vitest'

const DEG = Math.PI / 180

/** A circle of even marks whose plane is tilted about the θ = 0 axis, seen from far away; then moved. */
const tilted = (count: number, tiltDeg: number, [x, y] = [0, 0] as readonly [number, number]) =>
  Array.from({ length: count }, (_, k) => {
    const a = (2 * Math.PI * k) / count
    return [x + 300 * Math.cos(a), y - 300 * Math.sin(a) * Math.cos(tiltDeg * DEG)] as const
  })

const normalsOf = (seed: number): (() => number) => {
  const random = seededRandom(seed)
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}

describe('camera tilt is the universal-joint relation tan θ′ = tan θ·cos t', () => {
  // Angles for t = 30° computed independently in double precision from that relation.
  it.each([[10, 8.682204], [20, 17.495241], [30, 26.565051], [45, 40.893395], [60, 56.309932], [80, 78.491607]])('θ = %f° is seen at %f°', (theta, expected) => {
    const seen = bearing([0, 0], [Math.cos(theta * DEG), -Math.sin(theta * DEG) * Math.cos(30 * DEG)])
    expect(seen / DEG).toBeCloseTo(expected, 6)
  })

  // Largest deviation arcsin(tan²(t/2)), computed independently: 0.43856° at 10°, 4.11719° at 30°.
  it.each([[10, 0.43856], [30, 4.11719]])('a tilt of %f° bends angles by up to %f°', (tilt, expected) => {
    const off = Array.from({ length: 9000 }, (_, i) => {
      const a = (i / 100) * DEG
      return Math.abs(bearing([0, 0], [Math.cos(a), -Math.sin(a) * Math.cos(tilt * DEG)]) - a) / DEG
    })
    expect(Math.max(...off)).toBeCloseTo(expected, 4)
  })
})

describe('a full turn of even marks', () => {
  it.each([12, 48, 200])('tells tilt and centre exactly from %i marks', (count) => {
    const turn = evenTurn(tilted(count, 30, [17, -9]), [22, -5], true)
    expect(turn?.centre[0]).toBeCloseTo(17, 4)
    expect(turn?.centre[1]).toBeCloseTo(-9, 4)
    // Stretch that undoes y·cos t up to scale: (1 − a)/(1 + a) = 1/cos t.
    const [a, b] = turn?.stretch ?? [0, 0]
    expect((1 - a) / (1 + a)).toBeCloseTo(1 / Math.cos(30 * DEG), 5)
    expect(b).toBeCloseTo(0, 6)
  })

  it('is not misled by a pattern that repeats every fourth mark', () => {
    const uneven = Array.from({ length: 96 }, (_, k) => {
      const a = (2 * Math.PI * (k + ([0, 0.3, -0.2, 0.1][k % 4] as number))) / 96
      return [300 * Math.cos(a), -300 * Math.sin(a)] as const
    })
    const turn = evenTurn(uneven, [2, 1], true)
    expect(Math.hypot(turn?.centre[0] ?? 9, turn?.centre[1] ?? 9)).toBeLessThan(0.2)
    expect(Math.hypot(...(turn?.stretch ?? [9, 9]))).toBeLessThan(1e-3)
  })

  it('is not misled by marks missing from groups that crowd round every full step', () => {
    const cos = Math.cos(30 * DEG)
    const missing = [5, 6, 41, 77, 78, 120, 163]
    const marks = Array.from({ length: 192 }, (_, k) => {
      const a = (2 * Math.PI * (Math.floor(k / 4) + ([0, 0.1, 0.24, 0.41][k % 4] as number))) / 48
      return [300 * Math.cos(a), -300 * Math.sin(a) * cos] as const
    }).filter((_, k) => !missing.includes(k))
    const turn = evenTurn(marks, [3, -2], true)
    const [a, b] = turn?.stretch ?? [0, 0]
    // A twice-per-turn wave of 0.05° (0.0009 rad) is what the marks' own place in the paper leaves anyway.
    expect(Math.abs(a - (cos - 1) / (cos + 1))).toBeLessThan(1e-3)
    expect(Math.abs(b)).toBeLessThan(1e-3)
    expect(turn?.uStretch ?? 1).toBeLessThan(1e-3)
  })

  // Groups hardly farther apart than the tilt moves them: folded by the bearings as seen they run into each other, and 9 of 40 such turns were off by more than three u, up to 5 px.
  it('finds the pattern of eight crowded rests to each of twelve poles through the tilt itself', () => {
    const cos = Math.cos(25 * DEG)
    for (let seed = 1; seed <= 12; seed++) {
      const normal = normalsOf(seed)
      const all = Array.from({ length: 96 }, (_, k) => (2 * Math.PI * (k + 1.02 * Math.sin((2 * Math.PI * k) / 8))) / 96 + 0.05 * DEG * normal())
      const marks = all.filter((_, k) => k % 31 !== 7).map((a) => [300 * Math.cos(a), -300 * Math.sin(a) * cos] as const)
      const turn = evenTurn(marks, [4, -4], true)
      const [a, b] = turn?.stretch ?? [0, 0]
      // 0.05° each, 92 marks: 0.04 px of centre and 0.0001 of stretch are due; the pattern's places take some.
      expect(Math.hypot(turn?.centre[0] ?? 9, turn?.centre[1] ?? 9)).toBeLessThan(0.4)
      expect(Math.hypot(a - (cos - 1) / (cos + 1), b)).toBeLessThan(1e-3)
    }
  })

  // One of 80 missing among gaps that scatter so much that it does not show: counted one by one, the centre came out 8 px off and sure to 1.4.
  it('counts the steps that marks scatter about, and is no surer of the centre than that leaves', () => {
    const errors = Array.from({ length: 12 }, (_, seed) => {
      const normal = normalsOf(seed + 1)
      const marks = Array.from({ length: 80 }, (_, k) => {
        const a = (2 * Math.PI * (k + 0.15 * normal())) / 80
        return [300 * Math.cos(a), -300 * Math.sin(a)] as const
      }).filter((_, k) => k !== 40)
      const turn = evenTurn(marks, [4, -4], true)
      expect(turn?.steps).toBe(80)
      return (turn?.centre ?? [9, 9]).map((c) => c / Math.sqrt(turn?.covariance[0] ?? 1))
    }).flat()
    // 24 normal values: their rms is between 0.72 and 1.29 in 95 of 100 cases (chi-squared).
    const rms = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length)
    expect(rms).toBeGreaterThan(0.6)
    expect(rms).toBeLessThan(1.3)
  })

  // Gaps of one and two thirds in turn, as of two unequal phases: with marks missing, neither gaps nor marks can be counted one by one.
  it('counts pairs by their pattern where single marks are missing', () => {
    const missing = [0, 9, 31, 32, 50, 77, 93]
    const marks = Array.from({ length: 96 }, (_, k) => {
      const a = (2 * Math.PI * (Math.floor(k / 2) + (k % 2) / 3)) / 48
      return [300 * Math.cos(a), -300 * Math.sin(a)] as const
    }).filter((_, k) => !missing.includes(k))
    const turn = evenTurn(marks, [2, -1], true)
    expect(turn?.steps).toBe(48)
    expect(Math.hypot(turn?.centre[0] ?? 9, turn?.centre[1] ?? 9)).toBeLessThan(0.01)
  })

  // Groups of four round every full step of a 24-step motor; a shadow or a hand hides a tenth of the turn.
  it('counts on across a wide gap by the pattern that repeats on both sides of it', () => {
    const marks = Array.from({ length: 96 }, (_, k) => {
      const a = (2 * Math.PI * (Math.floor(k / 4) + ([0, 0.1, 0.24, 0.41][k % 4] as number))) / 24
      return [300 * Math.cos(a), -300 * Math.sin(a)] as const
    }).filter((_, k) => k < 30 || k > 37)
    const turn = evenTurn(marks, [2, -1], false)
    expect(Math.hypot(turn?.centre[0] ?? 9, turn?.centre[1] ?? 9)).toBeLessThan(0.1)
    expect(turn?.steps).toBe(24)
  })

  it('does not count across a wide gap what keeps no places', () => {
    const marks = Array.from({ length: 96 }, (_, k) => {
      const a = (2 * Math.PI * (k + 0.45 * Math.sin(12.9898 * k) + 0.4 * Math.sin(78.233 * k))) / 96
      return [300 * Math.cos(a), -300 * Math.sin(a)] as const
    }).filter((_, k) => k < 30 || k > 37)
    expect(evenTurn(marks, [2, -1], false)).toBeNull()
  })

  // Motion blur runs strokes together where it goes along the ring: on two sides of it. Read as one, they are missing there (simulated).
  it('says nothing of the camera where marks on two sides were read as one', () => {
    const runTogether = (seed: number) => {
      const random = seededRandom(seed)
      const bearings = Array.from({ length: 400 }, (_, k) => (2 * Math.PI * (k + 0.6 * (random() + random() - 1))) / 400)
      return bearings.flatMap((a, k) => {
        const [before, after] = [a - (bearings[k - 1] ?? -1), (bearings[k + 1] ?? 7) - a].map((gap) => gap < 0.7 * Math.cos(a) ** 2 * ((2 * Math.PI) / 400))
        const b = after ? (a + (bearings[k + 1] as number)) / 2 : a
        return before ? [] : [[300 * Math.cos(b), -300 * Math.sin(b)] as const]
      })
    }
    for (let seed = 1; seed <= 60; seed++) {
      const turn = evenTurn(runTogether(seed), [0, 0], true)
      expect(turn === null ? 0 : Math.hypot(...turn.stretch)).toBeLessThan(4 * (turn?.uStretch ?? 1))
    }
  })

  it('says nothing for part of a turn or for few marks', () => {
    expect(evenTurn(tilted(48, 0).slice(0, 30), [0, 0], true)).toBeNull()
    expect(evenTurn(tilted(8, 0), [0, 0], true)).toBeNull()
  })
})
