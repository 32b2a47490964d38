import type { CentreEstimate } from './centre-estimate.ts'
import { type LikelyCentre, mixedCentres, shareOf } from './mixed-centres.ts'

/** Another covariance that an estimate may have, and the chance of that before anything else is known. */
export interface Otherwise {
  readonly covariance: CentreEstimate['covariance']
  readonly chance: number
}

export interface NamedCentre extends CentreEstimate {
  readonly from: 'strokes' | 'ends' | 'cross' | 'hole' | 'shaft' | 'arc' | 'turn' | 'given' | 'sheet'
  /** What else it may be worth, as where it stands above the paper instead of lying in it, or was drawn with less care. */
  readonly otherwise?: readonly Otherwise[]
}

export interface CombinedCentre extends CentreEstimate {
  readonly used: readonly NamedCentre[]
  readonly setAside: readonly NamedCentre[]
}

type Symmetric = readonly [xx: number, xy: number, yy: number]

const determinantOf = ([xx, xy, yy]: Symmetric): number => Math.max(xx * yy - xy * xy, 1e-300)

const invert = ([xx, xy, yy]: Symmetric): Symmetric => {
  const determinant = determinantOf([xx, xy, yy])
  return [yy / determinant, -xy / determinant, xx / determinant]
}

const weighted = (estimates: readonly CentreEstimate[]): CentreEstimate => {
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

/** Squared distance of an estimate from a place in units of its uncertainty. */
const squareOff = ({ centre, covariance }: CentreEstimate, [x, y]: CentreEstimate['centre']): number => {
  const [xx, xy, yy] = invert(covariance)
  const [dx, dy] = [centre[0] - x, centre[1] - y]
  return xx * dx * dx + 2 * xy * dx * dy + yy * dy * dy
}

/** An estimate that is so far from the others, squared in units of what both leave open, is as likely about something else (1 in 1,800 true ones is farther off). */
const APART = 15

/** What one estimate may be: worth so much, or about something else; with ln of the chance, and of its density where it tells nothing. */
interface State {
  readonly estimate: CentreEstimate | null
  readonly logWeight: number
}

/** @param sure it is about the shaft beyond doubt */
const statesOf = (one: NamedCentre, others: readonly NamedCentre[], sure: boolean): readonly State[] => {
  const otherwise = one.otherwise ?? []
  const usual = { covariance: one.covariance, chance: 1 - otherwise.reduce((sum, { chance }) => sum + chance, 0) }
  const states = [usual, ...otherwise].map(({ covariance, chance }): State => ({ estimate: { centre: one.centre, covariance }, logWeight: Math.log(chance) }))
  if (sure) return states
  const rest = weighted(others).covariance
  const jointly: Symmetric = [one.covariance[0] + rest[0], one.covariance[1] + rest[1], one.covariance[2] + rest[2]]
  return [...states, { estimate: null, logWeight: -(APART + Math.log(determinantOf(jointly))) / 2 }]
}

/** Every way to take each estimate for one of its states, at least one of them being about the shaft. */
const waysOf = (states: readonly (readonly State[])[]): readonly (readonly State[])[] =>
  states.reduce<readonly (readonly State[])[]>((ways, own) => ways.flatMap((way) => own.map((state) => [...way, state])), [[]]).filter((way) => way.some(({ estimate }) => estimate !== null))

/** The weighted mean of what one way leaves, as likely as the estimates then agree. */
const meanOf = (way: readonly State[]): LikelyCentre => {
  const told = way.flatMap(({ estimate }) => (estimate === null ? [] : [estimate]))
  const mean = weighted(told)
  const spread = told.reduce((sum, one) => sum + squareOff(one, mean.centre) + Math.log(determinantOf(one.covariance)), 0) - Math.log(determinantOf(mean.covariance))
  return { ...mean, logWeight: way.reduce((sum, { logWeight }) => sum + logWeight, 0) - spread / 2 }
}

/**
 * Estimates of the shaft centre as one: their weighted means (weights: inverse covariances) over every way in which each may be worth what it
 * is or something else, or be about something else, each way as likely as they agree then. So the more they contradict each other,
 * the less all together are believed (a finite mixture in place of a Birge ratio, which needs more than two or three values).
 * The first in the list is always about the shaft, but for a hand that pointed elsewhere than two others show.
 */
export const combineCentres = (estimates: readonly NamedCentre[]): CombinedCentre => {
  const isSure = (one: NamedCentre): boolean => one === estimates[0] && (one.from !== 'given' || estimates.length < 3)
  const ways = waysOf(estimates.map((one) => statesOf(one, estimates.filter((o) => o !== one), isSure(one))))
  const means = ways.map(meanOf)
  const isLost = (i: number): boolean => shareOf(means, (way) => ways[way]?.[i]?.estimate === null) > 0.5
  const setAside = estimates.filter((_, i) => isLost(i))
  // That strokes do not start on a circle is no contradiction.
  return { ...mixedCentres(means), used: estimates.filter((one) => !setAside.includes(one)), setAside: setAside.filter(({ from }) => from !== 'ends') }
}
