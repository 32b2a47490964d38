import chiSquaredQuantile from '@stdlib/stats-base-dists-chisquare-quantile'
import { effectiveInterval, type EffectiveInterval, independentMarks } from './effective-interval.ts'
import { effectiveCount } from './effective-microsteps.ts'
import { type GapEffective, gapEffective } from './gap-effective.ts'
import { type Harmonic, harmonicsOf } from './harmonics.ts'
import { incrementsOf } from './increments.ts'
import { coverageFactor, incrementU, incrementsU, type Motion, motionsOf } from './motion.ts'
import { type ErrorSize, errorSize, positionErrors } from './position-errors.ts'
import { missingPositions, toldApart } from './positions-told-apart.ts'
import { type RepeatPattern, repeatPattern } from './repeat-pattern.ts'
import { overBoth, sizeIntervals, type SizeIntervals } from './size-intervals.ts'
import { widenedByCommon } from './widened-by-common.ts'
import { extremes, meanSquare, rms } from '#core/numeric/moments'

/** Rest angles 0 … K (deg, travel positive) with what is known about their measurement. */
export interface FigureInput {
  readonly anglesDeg: readonly number[]
  /** Standard uncertainty of each rest from its own mark. */
  readonly uDeg: readonly number[]
  /** Standard uncertainty shared by neighbours (rig lengths, centre, tilt), deg. */
  readonly commonUDeg: number
  /** k of the expanded uncertainty of increments; 2 unless u was estimated from few repeats. */
  readonly coverageFactor?: number
  /** Relative standard uncertainty of every increment from the rig's lengths; left out: none. */
  readonly incrementScaleU?: number
  /** Part of u that was told from the trace's own scatter, marks and motor together, deg; left out: none. */
  readonly scatterDeg?: number
  /** Degrees of freedom behind u; infinite, or left out, where it was stated. */
  readonly uFreedom?: number
  readonly stepsPerRev: number
  readonly microsteps: number
  /** One turn at the shaft when the rig goes round, deg; null otherwise. */
  readonly turnDeg: number | null
  /** u is the least it can be: the marks may explain any of the errors. */
  readonly uGuessed?: boolean
}

export interface Figures {
  readonly errorsDeg: readonly number[]
  readonly incrementsDeg: readonly number[]
  readonly incrementUDeg: readonly number[]
  readonly motions: readonly Motion[]
  readonly size: ErrorSize
  /** Of the size and of the largest increments. */
  readonly intervals: SizeIntervals
  readonly incrementErrorMaxMicrosteps: number
  readonly largestIncrementDeg: number
  readonly merged: number
  readonly reversed: number
  readonly missing: number
  readonly distinctPerFullStep: number
  readonly effectiveMicrosteps: EffectiveInterval
  /** Null where all rests are one. */
  readonly gapEffective: GapEffective | null
  readonly harmonics: readonly Harmonic[]
  readonly pattern: RepeatPattern
}

/** Scatter that counts as the marks' may as well be the motor's: then σ² is larger by its square. */
const withScatter = (low: number, { microsteps, stepsPerRev, scatterDeg = 0 }: FigureInput): number => (low > 0 ? microsteps / Math.sqrt((microsteps / low) ** 2 + 12 * ((scatterDeg * stepsPerRev * microsteps) / 360) ** 2) : 0)

/** Chance by which errors come out this small beside u when u is what it is said to be. */
const hardlyByChance = 0.001

/** Errors far smaller than u show that u was given too large: then none of them may be its doing, and all of them the motor's. */
const withDoubtfulU = (low: number, errorsDeg: readonly number[], { microsteps, microstepDeg, uDeg, marks }: { readonly microsteps: number; readonly microstepDeg: number; readonly uDeg: number; readonly marks: number }): number => {
  const square = meanSquare(errorsDeg.slice(1))
  const doubtful = uDeg > 0 && (marks * square) / uDeg ** 2 < chiSquaredQuantile(hardlyByChance, marks)
  return doubtful ? Math.min(low, effectiveCount(microsteps, square, 0, microstepDeg)) : low
}

/** Where nobody said how well a mark is placed and the trace cannot show it, so much of the errors may be its doing. */
const guesses = [0, 0.25, 0.5, 0.75, 1]

/** Each u that is to be reckoned with: one, or as many as there are guesses. */
const possibleU = (errorsDeg: readonly number[], { uDeg, uGuessed = false }: FigureInput): readonly (readonly number[])[] =>
  uGuessed ? guesses.map((part) => uDeg.map((u) => Math.max(u, part * rms(errorsDeg.slice(1))))) : [uDeg]

const intervalsOf = (errorsDeg: readonly number[], incrementsDeg: readonly number[], input: FigureInput): SizeIntervals => {
  const { incrementScaleU = 0, coverageFactor: factor = coverageFactor, uFreedom = Number.POSITIVE_INFINITY, commonUDeg } = input
  const common = { errorsDeg, incrementsDeg, microstepDeg: 360 / input.stepsPerRev / input.microsteps, commonUDeg, coverageFactor: factor, uFreedom, marks: Math.max(2, independentMarks(input.anglesDeg)) }
  const each = possibleU(errorsDeg, input).map((uDeg) => sizeIntervals({ ...common, uDeg, incrementUDeg: incrementsDeg.map((g, i) => Math.hypot(uDeg[i] ?? 0, uDeg[i + 1] ?? 0, incrementScaleU * g)) }))
  return each.reduce(overBoth)
}

const effectiveOf = (errorsDeg: readonly number[], input: FigureInput): EffectiveInterval => {
  const { microsteps, stepsPerRev, commonUDeg } = input
  const options = { microsteps, microstepDeg: 360 / stepsPerRev / microsteps, uDeg: rms(input.uDeg), marks: Math.max(2, independentMarks(input.anglesDeg)), ...(input.uFreedom === undefined ? {} : { uFreedom: input.uFreedom }) }
  const interval = widenedByCommon(effectiveInterval(errorsDeg, options), errorsDeg, { ...options, commonUDeg })
  const low = input.uGuessed ? Math.min(...possibleU(errorsDeg, input).map((uDeg) => effectiveInterval(errorsDeg, { ...options, uDeg: rms(uDeg) }).low)) : interval.low
  return { ...interval, low: withDoubtfulU(withScatter(low, input), errorsDeg, options), high: input.uGuessed ? microsteps : interval.high }
}

/** Of the figures only what is told of a trace before its rig's faults are taken off. */
export interface RoughFigures {
  readonly size: ErrorSize
  readonly effectiveMicrosteps: { readonly value: number }
}

/** Size and effective count alone, without intervals. */
export const roughFigures = (input: FigureInput): RoughFigures => {
  const { anglesDeg, microsteps, stepsPerRev } = input
  const microstepDeg = 360 / stepsPerRev / microsteps
  const errorsDeg = positionErrors(anglesDeg, microstepDeg)
  return { size: errorSize(errorsDeg), effectiveMicrosteps: { value: effectiveCount(microsteps, meanSquare(errorsDeg.slice(1)), rms(input.uDeg), microstepDeg) } }
}

const count = (motions: readonly Motion[], wanted: Motion): number => motions.filter((motion) => motion === wanted).length

/** Every figure of a trace read in one way (jumps early or late). */
export const figuresOf = (input: FigureInput): Figures => {
  const { anglesDeg, stepsPerRev, microsteps } = input
  const fullStepDeg = 360 / stepsPerRev
  const microstepDeg = fullStepDeg / microsteps
  const errorsDeg = positionErrors(anglesDeg, microstepDeg)
  const incrementsDeg = incrementsOf(anglesDeg)
  const incrementUDeg = incrementsU(input.uDeg, input.coverageFactor)
  const motions = motionsOf(incrementsDeg, incrementUDeg, microstepDeg)
  const expanded = incrementU(rms(input.uDeg), input.coverageFactor)
  return {
    errorsDeg,
    incrementsDeg,
    incrementUDeg,
    motions,
    size: errorSize(errorsDeg),
    intervals: intervalsOf(errorsDeg, incrementsDeg, input),
    incrementErrorMaxMicrosteps: incrementsDeg.reduce((most, g) => Math.max(most, Math.abs(g / microstepDeg - 1)), 0),
    largestIncrementDeg: extremes(incrementsDeg)[1],
    merged: count(motions, 'merged'),
    reversed: count(motions, 'reversed'),
    missing: missingPositions(errorsDeg, microstepDeg),
    distinctPerFullStep: (toldApart(anglesDeg, expanded, input.turnDeg) / incrementsDeg.length) * microsteps,
    effectiveMicrosteps: effectiveOf(errorsDeg, input),
    gapEffective: gapEffective(anglesDeg, { fullStepDeg, uDeg: rms(input.uDeg), coverageFactor: input.coverageFactor ?? 2, expandedDeg: expanded, scaleU: input.incrementScaleU ?? 0 }),
    harmonics: harmonicsOf(errorsDeg, { stepsPerRev, microsteps, withTurn: false }),
    pattern: repeatPattern(errorsDeg, microsteps),
  }
}
