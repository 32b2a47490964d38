import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'

/** How far below and above its expectation an observation may lie, in standard deviations, and still be accepted. */
export interface Tails {
  readonly below: number
  readonly above: number
}

const bothSides = normalQuantile(0.975, 0, 1)
const oneSide = normalQuantile(0.95, 0, 1)
/** Good to 1e-9 of the range. */
const halvings = 30

/** Half the root of a falling or rising condition: the last point of [from, to] at which `fits` holds, seen from `from`. */
const lastFitting = (from: number, to: number, fits: (at: number) => boolean): number => {
  let inside = from
  let outside = to
  for (let i = 0; i < halvings; i++) {
    const middle = (inside + outside) / 2
    if (fits(middle)) inside = middle
    else outside = middle
  }
  return inside
}

/** Chords tried at most; about six meet. */
const chords = 60

/** Root of a rising function between points where it is negative and positive, by chords that halve the weight of an end that stays (Illinois; Dowell & Jarratt, BIT 11 (1971) 168). */
const rootBetween = (from: number, to: number, f: (at: number) => number): number => {
  let [a, b, fa, fb] = [from, to, f(from), f(to)]
  let at = a
  for (let i = 0; i < chords && Math.abs(b - a) > 1e-13; i++) {
    at = (a * fb - b * fa) / (fb - fa)
    const value = f(at)
    if (Math.abs(value) < 1e-15) break
    if (value < 0 === fb < 0) fa /= 2
    else [a, fa] = [b, fb]
    ;[b, fb] = [at, value]
  }
  return at
}

const belowFor = (distance: number, above: number): number => (distance * distance + above * above) / (2 * distance)

/**
 * 95 % acceptance for a quantity that cannot be negative and truly lies `distance` standard deviations above zero:
 * one-sided at zero, two-sided far from it, ordered by likelihood ratio in between (Feldman & Cousins, Phys. Rev. D 57
 * (1998) 3873, for a normal observation).
 */
export const tailsAt = (distance: number): Tails => {
  if (distance >= bothSides) return { below: bothSides, above: bothSides }
  if (distance <= 0) return { below: Number.POSITIVE_INFINITY, above: oneSide }
  const inside = (above: number): number => normalCdf(above, 0, 1) - normalCdf(-belowFor(distance, above), 0, 1)
  const above = rootBetween(0.9 * oneSide, bothSides, (d) => inside(d) - 0.95)
  return { below: belowFor(distance, above), above }
}

export interface Evidence {
  /** Probability of an observation no larger than the one made, were the quantity θ ≥ 0; falling in θ. */
  readonly probabilityBelow: (theta: number) => number
  /** θ in standard deviations of the observation. */
  readonly distance: (theta: number) => number
  /** A θ to start from, of the order of the answer; more than 0. */
  readonly scale: number
}

/**
 * 95 % interval of a quantity that cannot be negative: every θ that would accept the observation. It covers 95 % at the
 * boundary too, where the usual equal-tailed interval, cut off at zero, covers 97.5 %.
 */
export const unifiedInterval = ({ probabilityBelow, distance, scale }: Evidence): readonly [low: number, high: number] => {
  const tooHigh = (theta: number): boolean => 1 - probabilityBelow(theta) < normalCdf(-tailsAt(distance(theta)).above, 0, 1)
  const tooLow = (theta: number): boolean => probabilityBelow(theta) < normalCdf(-tailsAt(distance(theta)).below, 0, 1)
  let top = scale
  for (let i = 0; i < 60 && !tooLow(top); i++) top *= 2
  const high = lastFitting(0, top, (theta) => !tooLow(theta))
  const low = tooHigh(0) ? lastFitting(high, 0, (theta) => !tooHigh(theta)) : 0
  return [low, high]
}
