import { describe, expect, it } from 'vitest'
import { ringOfSpots } from '#core/detect/dots/ring-of-spots'
import { photoPlane } from '#core/detect/plane-map'
import type { Spot } from '#core/detect/strip/find-spots'
import { normal, seededRandom } from '../draw-raster.ts'

// All spots here are simulated.
const RADIUS = 300

const spotAt = (radius: number, bearing: number): Spot => ({ middle: [500 + radius * Math.cos(bearing), 400 + radius * Math.sin(bearing)], halfPx: 2.5, area: 19, moments: [1.5, 0, 1.5] })

const ringWith = (radiusOf: (random: () => number) => number, seed: number): boolean => {
  const random = seededRandom(seed)
  const round = Array.from({ length: 120 }, () => spotAt(radiusOf(random), 2 * Math.PI * random()))
  return ringOfSpots({ round, other: [] }, photoPlane, null) !== null
}

const SEEDS = [1, 2, 3, 4, 5, 6]

describe('a circle of dots', () => {
  it('is one where a hand dotted along it, or a slanting view makes it an oval', () => {
    expect(SEEDS.map((seed) => ringWith((random) => RADIUS * (1 + 0.015 * normal(random)), seed))).toEqual(SEEDS.map(() => true))
    const oval = Array.from({ length: 120 }, (_, i) => spotAt(RADIUS * (1 + 0.065 * Math.cos((4 * Math.PI * i) / 120)), (2 * Math.PI * i) / 120))
    expect(ringOfSpots({ round: oval, other: [] }, photoPlane, null)).not.toBeNull()
  })

  it('is none where specks lie evenly over a broad band, however many: pencil’s grain', () => {
    expect(SEEDS.map((seed) => ringWith((random) => RADIUS * (0.86 + 0.28 * random()), seed))).toEqual(SEEDS.map(() => false))
  })
})
