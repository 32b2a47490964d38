import type { CentreEstimate } from './centre-estimate.ts'

/** An estimate and ln of how likely it is, up to a constant. */
export interface LikelyCentre extends CentreEstimate {
  readonly logWeight: number
}

const sharesOf = (estimates: readonly LikelyCentre[]): readonly number[] => {
  const most = Math.max(...estimates.map(({ logWeight }) => logWeight))
  const weights = estimates.map(({ logWeight }) => Math.exp(logWeight - most))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return weights.map((w) => w / total)
}

/** Chance of those that are wanted. */
export const shareOf = (estimates: readonly LikelyCentre[], wanted: (i: number) => boolean): number =>
  sharesOf(estimates).reduce((sum, share, i) => sum + (wanted(i) ? share : 0), 0)

/** Mean and covariance of a centre that is one of several estimates, each as likely as it is; of at least one. */
export const mixedCentres = (estimates: readonly LikelyCentre[]): CentreEstimate => {
  const shares = sharesOf(estimates)
  const mean = (of: (one: LikelyCentre) => number): number => estimates.reduce((sum, one, i) => sum + (shares[i] as number) * of(one), 0)
  const [x, y] = [mean(({ centre }) => centre[0]), mean(({ centre }) => centre[1])]
  const covariance = [
    mean(({ centre, covariance: [xx] }) => xx + (centre[0] - x) ** 2),
    mean(({ centre, covariance: [, xy] }) => xy + (centre[0] - x) * (centre[1] - y)),
    mean(({ centre, covariance: [, , yy] }) => yy + (centre[1] - y) ** 2),
  ] as const
  return { centre: [x, y], covariance }
}
