import type { CentreEstimate } from './centre-from-strokes.ts'

export interface NamedCentre extends CentreEstimate {
  readonly from: 'strokes' | 'ends' | 'cross' | 'hole' | 'shaft' | 'arc' | 'turn' | 'given' | 'sheet'
  /** What the covariance is if this stands above the paper instead of lying in it, and the chance of that before anything else is known. */
  readonly standing?: { readonly covariance: CentreEstimate['covariance']; readonly chance: number }
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

/** Covariance of the distance between two estimates. */
const jointly = (a: CentreEstimate, b: CentreEstimate): Symmetric => [a.covariance[0] + b.covariance[0], a.covariance[1] + b.covariance[1], a.covariance[2] + b.covariance[2]]

/** Squared distance of two estimates in units of their joint uncertainty (two degrees of freedom). */
const disagreement = (a: CentreEstimate, b: CentreEstimate): number => {
  const [xx, xy, yy] = invert(jointly(a, b))
  const dx = a.centre[0] - b.centre[0]
  const dy = a.centre[1] - b.centre[1]
  return xx * dx * dx + 2 * xy * dx * dy + yy * dy * dy
}

/** Chance of more than this is 1 in 1,800 for a true pair. */
const APART = 15

/**
 * Weighted mean of several estimates that lie in the paper (weights: inverse covariances). The one that disagrees most with
 * the mean of the others is set aside while any does so beyond doubt; the first in the list is kept to the last.
 */
const combineFlat = (estimates: readonly NamedCentre[]): CombinedCentre => {
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

/** Log density of the distance between two estimates, up to a constant. */
const agreement = (a: CentreEstimate, b: CentreEstimate): number => {
  const [xx, xy, yy] = jointly(a, b)
  return -(disagreement(a, b) + Math.log(Math.max(xx * yy - xy * xy, 1e-300))) / 2
}

/** Mean and covariance of one estimate or the other. @param share chance of the second */
const either = (a: CentreEstimate, b: CentreEstimate, share: number): CentreEstimate => {
  const between = (p: number, q: number): number => (1 - share) * p + share * q
  const [dx, dy] = [b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]]
  const apart = [dx * dx, dx * dy, dy * dy] as const
  const covariance = apart.map((square, i) => between(a.covariance[i] as number, b.covariance[i] as number) + share * (1 - share) * square) as [number, number, number]
  return { centre: [between(a.centre[0], b.centre[0]), between(a.centre[1], b.centre[1])], covariance }
}

/**
 * Estimates of the shaft centre as one. What may stand above the paper is taken as lying in it and as standing, each as likely as
 * the others make it.
 */
export const combineCentres = (estimates: readonly NamedCentre[]): CombinedCentre => {
  const one = estimates.find(({ standing }) => standing !== undefined)
  if (one?.standing === undefined || estimates.length === 1) return combineFlat(estimates)
  const raised = { ...one, covariance: one.standing.covariance }
  const others = combineFlat(estimates.filter((o) => o !== one))
  const odds = (one.standing.chance / (1 - one.standing.chance)) * Math.exp(agreement(raised, others) - agreement(one, others))
  const [flat, high] = [combineFlat(estimates), combineFlat(estimates.map((o) => (o === one ? raised : o)))]
  return { ...(odds > 1 ? high : flat), ...either(flat, high, odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds)) }
}
