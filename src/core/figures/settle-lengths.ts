import tQuantile from '@stdlib/stats-base-dists-t-quantile'
import { type Belief, believe } from '#core/numeric/believe'
import { mean, rms, sum } from '#core/numeric/moments'
import { combined, type Contribution } from '#core/rig/budget'
import { rereadRests, type RigLength, type SlowErrors, type TravelStart } from '#core/rig/slow-errors'
import { aboutPattern, patternNoise } from './about-pattern.ts'
import { lostIn } from './lost-steps.ts'

/** A rig length as the trace's own repeats show it. */
export interface SettledLength {
  readonly source: string
  readonly statedMm: number
  readonly fittedMm: number
  /** Standard uncertainty of the fitted length, mm. */
  readonly uMm: number
  /** The marks contradict what was stated. */
  readonly contradicts: boolean
}

export interface SettledLengths {
  /** What to subtract from rests 0 … K, deg. */
  readonly correctionDeg: readonly number[]
  readonly lengths: readonly SettledLength[]
  /** Takes the place of what the lengths contributed as stated; null where the trace is too short to say. */
  readonly contributions: readonly Contribution[] | null
}

export interface LengthOptions extends TravelStart {
  readonly microsteps: number
  readonly microstepDeg: number
  /** Standard uncertainty of a mark, deg: cycles that agree better do so by chance. */
  readonly uDeg: number
}

/** Rounds of the search, which is nearly linear, at most; fewer where a round moves no length by as much as this, mm. */
const rounds = 5
const unmoved = 1e-10
/** Probability of contradicting an exact length by chance. */
const contradicted = 0.01

interface Sight extends LengthOptions {
  readonly anglesDeg: readonly number[]
  readonly slow: SlowErrors
}

/** Rests with the lengths changed, travel positive, rest 0 at 0. */
const reread = (sight: Sight, changes: readonly number[]): number[] => rereadRests(sight.anglesDeg, sight.slow, sight, changes)

const bends = (sight: Sight, changes: readonly number[], free: readonly number[], here = reread(sight, changes)): number[][] =>
  free.map((place) => {
    const step = 1e-3
    const there = reread(sight, changes.map((change, i) => change + (i === place ? step : 0)))
    return there.map((angle, k) => (angle - (here[k] ?? 0)) / step)
  })

/** Lengths at the given places brought to what the cycles say, against what was known of them. */
const search = (sight: Sight, free: readonly number[], variance: number, from: readonly number[] = sight.slow.lengths.map(() => 0)): { changes: readonly number[]; belief: Belief } | null => {
  const { microsteps, microstepDeg, slow } = sight
  const within = (values: readonly number[]): number[] => aboutPattern(values, microsteps)
  let changes = from
  let belief: Belief | null = null
  for (let round = 0; round < rounds; round++) {
    const here = reread(sight, changes)
    const columns = bends(sight, changes, free, here).map(within)
    const errors = within(here.map((angle, k) => angle - microstepDeg * k))
    // The columns are taken at the changes so far; the belief is about the whole change.
    const target = errors.map((error, k) => free.reduce((sum, place, j) => sum + (changes[place] ?? 0) * (columns[j]?.[k] ?? 0), 0) - error)
    belief = believe(columns, target, { variance, beforehand: free.map((place) => slow.lengths[place]?.uMm || Number.POSITIVE_INFINITY) })
    if (!belief || belief.means.some((each) => !Number.isFinite(each))) return null
    const before = changes
    changes = before.map((_, place) => (free.includes(place) ? (belief?.means[free.indexOf(place)] ?? 0) : 0))
    if (changes.every((change, place) => Math.abs(change - (before[place] ?? 0)) < unmoved)) break
  }
  return belief && { changes, belief }
}

const errorsOf = (sight: Sight, changes: readonly number[]): number[] => reread(sight, changes).map((angle, k) => angle - sight.microstepDeg * k)

/** Places of the lengths to fit: all that are uncertain, and of the exact ones those the cycles contradict, the clearest first. */
const chosen = (sight: Sight): { free: number[]; contradicting: number[] } => {
  const { lengths } = sight.slow
  const free = lengths.flatMap(({ uMm }, place) => (uMm > 0 ? [place] : []))
  const contradicting: number[] = []
  for (let left = lengths.flatMap(({ uMm }, place) => (uMm > 0 ? [] : [place])); left.length > 0; ) {
    const tried = left.map((place) => ({ place, strength: strengthOf(sight, [...free, place]) })).sort((a, b) => b.strength - a.strength)[0]
    if (!tried || tried.strength < 1) break
    free.push(tried.place)
    contradicting.push(tried.place)
    left = left.filter((place) => place !== tried.place)
  }
  return { free, contradicting }
}

/** How clearly the last of these lengths differs from what was stated: its change over the limit of Student's t. */
const strengthOf = (sight: Sight, free: readonly number[]): number => {
  const rough = search(sight, free, leastVariance(sight))
  const noise = rough && patternNoise(errorsOf(sight, rough.changes), sight.microsteps, free.length)
  const found = noise && search(sight, free, Math.max(noise.variance, leastVariance(sight)), rough.changes)
  if (!found) return 0
  const [last, length] = [free.length - 1, sight.slow.lengths[free.at(-1) ?? 0]]
  const change = Math.abs(found.belief.means[last] ?? 0)
  if (length && change > length.believableMm) return 0
  return change / Math.sqrt(found.belief.covariance[last]?.[last] ?? Number.POSITIVE_INFINITY) / tQuantile(1 - contradicted / 2, noise.degreesOfFreedom)
}

const leastVariance = ({ microstepDeg, uDeg }: Sight): number => Math.max(uDeg, 1e-6 * microstepDeg) ** 2

/** Parts of the same name, in quadrature. */
const byName = (parts: readonly Contribution[]): Contribution[] =>
  [...new Set(parts.map(({ source }) => source))].map((source) => {
    const own = parts.filter((part) => part.source === source)
    return { ...(own[0] as Contribution), uDeg: combined(own), note: own.map(({ note }) => note).join('; ') }
  })

const meanProduct = (a: readonly number[], b: readonly number[]): number => sum(a.map((value, k) => value * (b[k] ?? 0))) / a.length

/** What the fit leaves open in the angles, shared out over the lengths so that their squares add up to it. */
const leftOpen = (sight: Sight, changes: readonly number[], free: readonly number[], { covariance }: Belief): Contribution[] => {
  const columns = bends(sight, changes, free).map((column) => {
    const centre = mean(column)
    return column.map((value) => value - centre)
  })
  const alone = columns.map((column, j) => Math.sqrt(covariance[j]?.[j] ?? 0) * rms(column))
  const variance = columns.reduce((all, a, i) => all + columns.reduce((part, b, j) => part + meanProduct(a, b) * (covariance[i]?.[j] ?? 0), 0), 0)
  const share = Math.sqrt(Math.max(0, variance)) / Math.hypot(...alone)
  return byName(free.map((place, j) => ({ source: sight.slow.lengths[place]?.source ?? '', uDeg: (alone[j] ?? 0) * share, kind: 'common', degreesOfFreedom: null, note: noteOf(sight.slow.lengths[place], changes[place] ?? 0, Math.sqrt(covariance[j]?.[j] ?? 0)) })))
}

const noteOf = (length: RigLength | undefined, change: number, u: number): string => `${Number(((length?.mm ?? 0) + change).toPrecision(length?.mm ? 5 : 2))} mm ± ${u.toPrecision(2)} mm as the trace’s own electrical cycles show it`

/**
 * Rig lengths brought to what the trace itself shows. A motor in step repeats its pattern every four full steps, so a slow
 * change of the errors from cycle to cycle is the rig's: a scale is a wrong radius or wall distance, a bend a wrong foot or a
 * pivot off centre. What is known of a length beforehand counts with its u; one stated as exact stays so unless the cycles
 * contradict it (1 %). Angles are corrected, and what the fit leaves open takes the place of the stated contributions.
 * @param anglesDeg rests 0 … K, travel positive, from 0
 * @returns no correction and null contributions with less than two electrical cycles
 */
export const settleLengths = (anglesDeg: readonly number[], slow: SlowErrors, options: LengthOptions): SettledLengths => {
  const nothing: SettledLengths = { correctionDeg: anglesDeg.map(() => 0), lengths: [], contributions: null }
  const sight: Sight = { ...options, anglesDeg: anglesDeg.map((angle) => angle - (anglesDeg[0] ?? 0)), slow }
  if (slow.lengths.length === 0 || anglesDeg.length - 1 < 8 * options.microsteps) return nothing
  if (lostIn(sight.anglesDeg, options)) return nothing
  const { free, contradicting } = chosen(sight)
  if (free.length === 0) return nothing
  // A wrong length is itself no noise: the first search trusts the marks as stated, so that it is not held back by the bend it is to find.
  const rough = search(sight, free, leastVariance(sight))
  const noise = rough && patternNoise(errorsOf(sight, rough.changes), options.microsteps, free.length)
  const found = noise && search(sight, free, Math.max(noise.variance, leastVariance(sight)), rough.changes)
  if (!found) return nothing
  const straight = reread(sight, found.changes)
  if (lostIn(straight, options)) return nothing
  return {
    correctionDeg: straight.map((angle, k) => (sight.anglesDeg[k] ?? 0) - angle),
    lengths: free.map((place, j) => ({ source: slow.lengths[place]?.source ?? '', statedMm: slow.lengths[place]?.mm ?? 0, fittedMm: (slow.lengths[place]?.mm ?? 0) + (found.changes[place] ?? 0), uMm: Math.sqrt(found.belief.covariance[j]?.[j] ?? 0), contradicts: contradicting.includes(place) })),
    contributions: leftOpen(sight, found.changes, free, found.belief).filter(({ uDeg }) => uDeg > 0),
  }
}

/** The shared contributions with those of the settled lengths in place of the stated ones. */
export const withSettled = (common: readonly Contribution[], { contributions }: SettledLengths): readonly Contribution[] => {
  if (!contributions) return common
  const settled = new Set(contributions.map(({ source }) => source))
  return [...common.filter(({ source }) => !settled.has(source)), ...contributions]
}

/** What to say of lengths that the marks contradict. */
export const contradictions = ({ lengths }: SettledLengths): string[] =>
  lengths
    .filter(({ contradicts }) => contradicts)
    .map(({ source, statedMm, fittedMm, uMm }) => `From cycle to cycle the marks wander as they would with another ${source}: ${fittedMm.toPrecision(5)} ± ${(2 * uMm).toPrecision(2)} mm, not ${statedMm} mm. A motor in step cannot do that, so the figures are for the fitted ${source}; measure it again.`)
