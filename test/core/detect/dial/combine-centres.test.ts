import { describe, expect, it } from 'vitest'
import { combineCentres, type NamedCentre } from '#core/detect/dial/combine-centres'

const strokes: NamedCentre = { from: 'strokes', centre: [0, 0], covariance: [0.04, 0, 0.04] }

/** Seen along x: standing, its place is known only across. */
const shaftAt = (x: number, y: number): NamedCentre => ({ from: 'shaft', centre: [x, y], covariance: [0.01, 0, 0.01], standing: { covariance: [4, 0, 0.01], chance: 0.5 } })

describe('several estimates of the shaft centre', () => {
  // Weights 1/0.04 and 1/0.01, by hand.
  it('are their mean weighted by inverse covariances', () => {
    const { centre, covariance } = combineCentres([strokes, { from: 'hole', centre: [0.1, -0.2], covariance: [0.01, 0, 0.01] }])
    expect(centre[0]).toBeCloseTo(0.08, 12)
    expect(centre[1]).toBeCloseTo(-0.16, 12)
    expect(covariance[0]).toBeCloseTo(0.008, 12)
  })

  it('do not follow a hub that stands above the paper: seen aslant it lies beside the shaft, and the strokes are right', () => {
    const { centre, setAside } = combineCentres([strokes, shaftAt(1.3, 0)])
    // A hundredth of the way, by 1/4 to 1/0.04.
    expect(centre[0]).toBeCloseTo(1.3 / 101, 4)
    expect(setAside).toEqual([])
  })

  it('still believe such a hub across the line of sight', () => {
    const { centre } = combineCentres([strokes, shaftAt(1.3, 0.1)])
    expect(centre[1]).toBeCloseTo(0.08, 3)
  })

  // Odds of the two: √(0.05 / 4.04) to 1, the densities at no distance; variances 0.008 and 0.04·4/4.04, by hand.
  it('are more certain where it agrees, as then it likely lies in the paper', () => {
    const { covariance } = combineCentres([strokes, shaftAt(0, 0)])
    const odds = Math.sqrt(0.05 / 4.04)
    expect(covariance[0]).toBeCloseTo((0.008 + odds * (0.16 / 4.04)) / (1 + odds), 10)
  })

  it('leave out what is wrong across the line of sight, too, where standing explains nothing', () => {
    expect(combineCentres([strokes, shaftAt(0, 1.3)]).setAside.map(({ from }) => from)).toEqual(['shaft'])
  })
})
