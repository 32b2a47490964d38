import type { CentreEstimate } from './centre-from-strokes.ts'

export interface NamedCentre extends CentreEstimate {
  readonly from: 'strokes' | 'ends' | 'cross' | 'hole' | 'shaft' | 'arc' | 'turn' | 'given' | 'sheet'
}

export interface CombinedCentre extends CentreEstimate {
  readonly used: readonly NamedCentre[]
  readonly setAside: readonly NamedCentre[]
}

type Symmetric = readonly [xx: number, xy: number, yy: number]

const invert = ([xx, xy, yy]: Symmetric): Symmetric => {
  const determinant = Math.max(xx * yy - xy * xy, 1e-300)
  return [yy / determinant, -xy / determinant, xx / determinant]
}

const weighted = (estimates: readonly NamedCentre[]): CentreEstimate => {
  let [a, b, d, x, y] = [0, 0, 0, 0, 0]
  for (const { centre, covariance } of estimates) {
    const [xx, xy, yy] = invert(covariance)
    a += xx
    b += xy
    d += yy
    x += xx * centre[0] + xy * centre[1]
    y += xy * centre[0] + yy * centre[1]
  }
  const [cxx, cxy, cyy] = invert([a, b, d])
  return { centre: [cxx * x + cxy * y, cxy * x + cyy * y], covariance: [cxx, cxy, cyy] }
}

/** Squared distance of two estimates in units of their joint uncertainty (two degrees of freedom). */
const disagreement = (a: CentreEstimate, b: CentreEstimate): number => {
  const [xx, xy, yy] = invert([a.covariance[0] + b.covariance[0], a.covariance[1] + b.covariance[1], a.covariance[2] + b.covariance[2]])
  const dx = a.centre[0] - b.centre[0]
  const dy = a.centre[1] - b.centre[1]
  return xx * dx * dx + 2 * xy * dx * dy + yy * dy * dy
}

/** Chance of more than this is 1 in 1,800 for a true pair. */
const APART = 15

/**
 * Weighted mean of several estimates of the shaft centre (weights: inverse covariances). The one that disagrees most with
 * the mean of the others is set aside while any does so beyond doubt; the first in the list is kept to the last.
 */
export const combineCentres = (estimates: readonly NamedCentre[]): CombinedCentre => {
  let used = [...estimates]
  const apart: NamedCentre[] = []
  while (used.length > 1) {
    const worst = used
      .map((one) => ({ one, d: disagreement(one, weighted(used.filter((o) => o !== one))) }))
      .filter(({ one }) => used.length > 2 || one !== used[0])
      .sort((p, q) => q.d - p.d)[0]
    if (worst === undefined || worst.d < APART) break
    apart.push(worst.one)
    used = used.filter((o) => o !== worst.one)
  }
  // That strokes do not start on a circle is no contradiction.
  return { ...weighted(used), used, setAside: apart.filter(({ from }) => from !== 'ends') }
}
