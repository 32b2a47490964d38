import { describe, expect, it } from 'vitest'
import { combineCentres, type NamedCentre } from '#core/detect/centre/combine-centres'

const strokes: NamedCentre = { from: 'strokes', centre: [0, 0], covariance: [0.04, 0, 0.04] }

/** Seen along x: standing, its place is known only across. */
const shaftAt = (x: number, y: number): NamedCentre => ({ from: 'shaft', centre: [x, y], covariance: [0.01, 0, 0.01], otherwise: [{ covariance: [4, 0, 0.01], chance: 0.5 }] })

/** Chance that an estimate at a distance of d (squared, in units of what both leave open) is about the shaft: as likely as not at 15. */
const aboutShaft = (square: number): number => 1 / (1 + Math.exp((square - 15) / 2))

describe('several estimates of the shaft centre', () => {
  // Weights 1/0.04 and 1/0.01 where both are about the shaft, at d² = 0.05/0.05, by hand.
  it('are their mean weighted by inverse covariances', () => {
    const { centre, covariance, setAside } = combineCentres([strokes, { from: 'hole', centre: [0.1, -0.2], covariance: [0.01, 0, 0.01] }])
    const share = aboutShaft(1)
    expect(centre[0]).toBeCloseTo(0.08 * share, 12)
    expect(centre[1]).toBeCloseTo(-0.16 * share, 12)
    expect(covariance[0]).toBeCloseTo(0.008 * share + 0.04 * (1 - share) + share * (1 - share) * 0.08 ** 2, 12)
    expect(setAside).toEqual([])
  })

  // The same pair at d² = 0, 8 and 15: 0.008 where they agree, halfway between the two at 15.
  it('are the less sure, all together, the more they contradict each other, up to where one is left out', () => {
    const at = (x: number) => combineCentres([strokes, { from: 'hole', centre: [x, 0], covariance: [0.01, 0, 0.01] }])
    const [agree, doubtful, apart, far] = [0, 0.63, 0.87, 2].map(at)
    expect(agree?.covariance[0]).toBeCloseTo(0.008, 4)
    expect(doubtful?.covariance[0]).toBeGreaterThan(0.015)
    expect(apart?.covariance[0]).toBeGreaterThan(0.1)
    expect(far?.setAside.map(({ from }) => from)).toEqual(['hole'])
    expect(far?.centre[0]).toBeCloseTo(0, 6)
    expect(far?.covariance[0]).toBeCloseTo(0.04, 6)
  })

  it('do not follow a hub that stands above the paper: seen aslant it lies beside the shaft, and the strokes are right', () => {
    const { centre, setAside } = combineCentres([strokes, shaftAt(1.3, 0)])
    // A hundredth of the way, by 1/4 to 1/0.04.
    expect(centre[0]).toBeCloseTo(1.3 / 101, 2)
    expect(setAside).toEqual([])
  })

  it('still believe such a hub across the line of sight', () => {
    const { centre } = combineCentres([strokes, shaftAt(1.3, 0.1)])
    expect(centre[1]).toBeCloseTo(0.08, 2)
  })

  // Odds of the two: √(0.05 / 4.04) to 1, the densities at no distance; variances 0.008 and 0.04·4/4.04, by hand, and e^−7.5 for neither.
  it('are more certain where it agrees, as then it likely lies in the paper', () => {
    const { covariance } = combineCentres([strokes, shaftAt(0, 0)])
    const odds = Math.sqrt(0.05 / 4.04)
    const neither = 2 * Math.exp(-7.5)
    expect(covariance[0]).toBeCloseTo((0.008 + odds * (0.16 / 4.04) + neither * 0.04) / (1 + odds + neither), 10)
  })

  it('believe an arc that was drawn with little care no more than it deserves', () => {
    const arc = (x: number): NamedCentre => ({ from: 'arc', centre: [x, 0], covariance: [0.02, 0, 0.02], otherwise: [{ covariance: [0.36, 0, 0.36], chance: 0.3 }] })
    const [near, far] = [0, 1].map((x) => combineCentres([strokes, arc(x)]))
    expect(Math.sqrt(near?.covariance[0] ?? 9)).toBeLessThan(0.15)
    expect(Math.sqrt(far?.covariance[0] ?? 0)).toBeGreaterThan(0.19)
    expect(far?.centre[0]).toBeLessThan(0.2)
  })

  it('leave out a hand that pointed elsewhere than strokes and shaft show, and never the strokes for something round', () => {
    const given: NamedCentre = { from: 'given', centre: [9, 0], covariance: [0.5, 0, 0.5] }
    expect(combineCentres([given, strokes, shaftAt(0, 0)]).setAside.map(({ from }) => from)).toEqual(['given'])
    expect(combineCentres([strokes, { ...shaftAt(9, 9), from: 'hole' }, { ...shaftAt(9, 9), from: 'cross' }]).used.map(({ from }) => from)).toContain('strokes')
  })

  it('leave out what is wrong across the line of sight, too, where standing explains nothing', () => {
    expect(combineCentres([strokes, shaftAt(0, 1.3)]).setAside.map(({ from }) => from)).toEqual(['shaft'])
  })
})
