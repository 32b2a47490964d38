import tQuantile from '@stdlib/stats-base-dists-t-quantile'
import { extremes, mean, meanSquare, rms } from '#core/numeric/moments'

type Range = readonly [low: number, high: number]

/** 95 % intervals of the figures that are picked from, or summed over, all marks. */
export interface SizeIntervals {
  readonly peakDeg: Range
  readonly peakToPeakDeg: Range
  readonly rmsDeg: Range
  readonly incrementErrorMaxMicrosteps: Range
  readonly largestIncrementDeg: Range
}

export interface SizeInput {
  /** e_0 … e_K and g_1 … g_K, deg, each with its standard uncertainty. */
  readonly errorsDeg: readonly number[]
  readonly uDeg: readonly number[]
  readonly incrementsDeg: readonly number[]
  readonly incrementUDeg: readonly number[]
  readonly microstepDeg: number
  /** Standard uncertainty that all errors share, deg. */
  readonly commonUDeg: number
  /** Coverage factor of one mark told in advance. */
  readonly coverageFactor: number
  readonly uFreedom: number
  /** So many marks of their own the commands are worth. */
  readonly marks: number
}

/** What is left outside on one side. */
const tail = 0.025
/** Degrees of freedom that a distribution takes for "without limit". */
const withoutLimit = 1e6

/** Coverage factor that holds for each of so many at once (Bonferroni). */
const factorAmong = (many: number, freedom: number): number => tQuantile(1 - tail / Math.max(1, many), Math.max(1, Math.min(freedom, withoutLimit)))

const largestOf = (sizes: readonly number[], us: readonly number[], factor: number): number => sizes.reduce((most, size, i) => Math.max(most, size + factor * (us[i] ?? 0)), Number.NEGATIVE_INFINITY)

interface Picked {
  readonly among: number
  readonly alone: number
}

/** The largest of sizes none of which is below 0: see `sizeIntervals`. */
const ofLargest = (sizes: readonly number[], us: readonly number[], { among, alone }: Picked): Range => [Math.max(0, largestOf(sizes, us, -among)), largestOf(sizes, us, alone)]

/** Top less bottom; the two marks are those that, with their own u, reach furthest. */
const ofSpan = (errors: readonly number[], us: readonly number[], { among, alone }: Picked): Range => {
  const reach = (factor: number): number => {
    const end = (sign: number): number => errors.reduce((best, e, i) => (sign * e + (factor / Math.SQRT2) * (us[i] ?? 0) > sign * (errors[best] ?? 0) + (factor / Math.SQRT2) * (us[best] ?? 0) ? i : best), 0)
    const [top, bottom] = [end(1), end(-1)]
    return (errors[top] ?? 0) - (errors[bottom] ?? 0) + factor * Math.hypot(us[top] ?? 0, us[bottom] ?? 0)
  }
  return [Math.max(0, reach(-among)), reach(alone)]
}

/**
 * σ² = mean e² − u², whose variance is a + bσ² with a = 2u⁴/M (and 2u⁴/ν more where u was estimated), b = 4u²/M: the σ² for
 * which what was found lies just k standard deviations off.
 */
const ofRms = (errors: readonly number[], u: number, { marks, uFreedom, coverageFactor: k }: SizeInput): { readonly value: number; readonly range: Range } => {
  const variance = Math.max(0, meanSquare(errors) - u * u)
  const [a, b] = [2 * u ** 4 * (1 / marks + 1 / uFreedom), (4 * u * u) / marks]
  const middle = variance + (k * k * b) / 2
  const half = k * Math.sqrt((k * k * b * b) / 4 + a + b * variance)
  return { value: Math.sqrt(variance), range: [Math.sqrt(Math.max(0, middle - half)), Math.sqrt(middle + half)] }
}

/** Widened by what all marks share. */
const widened = ([low, high]: Range, value: number, shared: number): Range => [Math.max(0, value - Math.hypot(value - low, shared)), value + Math.hypot(high - value, shared)]

/**
 * What the motor itself does, marking apart. A figure picked from many marks reads large, for the mark that strays furthest
 * is picked: downwards the interval allows for the largest of as many errors, each mark's own bound holding at once;
 * upwards for those of the marks that are truly the furthest, which are one or two.
 */
export const sizeIntervals = (input: SizeInput): SizeIntervals => {
  const { incrementsDeg, incrementUDeg, microstepDeg, commonUDeg, coverageFactor: alone, uFreedom, marks } = input
  const [errors, us] = [input.errorsDeg.slice(1), input.uDeg.slice(1)]
  const shared = alone * commonUDeg
  const oneSided = { among: factorAmong(marks, uFreedom), alone }
  const twoSided = { among: factorAmong(2 * marks, uFreedom), alone }
  const pairs = { among: factorAmong(marks * (marks - 1), uFreedom), alone }
  const sizes = errors.map(Math.abs)
  const missed = incrementsDeg.map((g) => Math.abs(g / microstepDeg - 1))
  const largest = ofLargest(incrementsDeg, incrementUDeg, oneSided)
  const root = ofRms(errors, rms(us), input)
  const [bottom, top] = extremes(errors)
  return {
    peakDeg: widened(ofLargest(sizes, us, twoSided), Math.max(-bottom, top), shared),
    peakToPeakDeg: widened(ofSpan(errors, us, pairs), top - bottom, shared),
    rmsDeg: widened(root.range, root.value, shared),
    incrementErrorMaxMicrosteps: ofLargest(missed, incrementUDeg.map((u) => u / microstepDeg), twoSided),
    // The largest is no less than their mean.
    largestIncrementDeg: [Math.max(largest[0], mean(incrementsDeg) - (alone * (incrementUDeg[0] ?? 0)) / incrementsDeg.length), largest[1]],
  }
}

const span = (a: Range, b: Range): Range => [Math.min(a[0], b[0]), Math.max(a[1], b[1])]

/** What either of two suppositions leaves open. */
export const overBoth = (a: SizeIntervals, b: SizeIntervals): SizeIntervals => ({
  peakDeg: span(a.peakDeg, b.peakDeg),
  peakToPeakDeg: span(a.peakToPeakDeg, b.peakToPeakDeg),
  rmsDeg: span(a.rmsDeg, b.rmsDeg),
  incrementErrorMaxMicrosteps: span(a.incrementErrorMaxMicrosteps, b.incrementErrorMaxMicrosteps),
  largestIncrementDeg: span(a.largestIncrementDeg, b.largestIncrementDeg),
})
