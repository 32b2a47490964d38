import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { coverageFactor } from '#core/figures/motion'

export type Verdict = 'holds' | 'fails' | 'not proven'

/** Limits of an increment in units of its nominal. */
export interface IncrementLimits {
  readonly low: number
  readonly high: number
}

export const usualLimits: IncrementLimits = { low: 0.5, high: 1.5 }

/** One step mode judged on the measured trace. */
export interface ModeVerdict {
  readonly microsteps: number
  readonly verdict: Verdict
  /** The increment furthest from nominal ∓ its U, in nominal increments of this mode; null with no increment. */
  readonly worstIncrement: readonly [low: number, high: number] | null
  readonly why: string
}

export interface ModeInput {
  /** Rests 0 … K in each way the jumps can be read, deg, travel positive. */
  readonly readings: readonly (readonly number[])[]
  readonly uDeg: readonly number[]
  readonly fullStepDeg: number
  readonly microsteps: number
  /** A command that stands on a full step. */
  readonly fullStepCommand: number
  readonly limits: IncrementLimits
}

interface Increment {
  /** In nominal increments of the mode. */
  readonly size: number
  readonly expanded: number
}

/** Rests at every (N/n)-th command from a full step on → increments of mode n. */
const incrementsOfMode = (angles: readonly number[], input: ModeInput, mode: number): Increment[] => {
  const stride = input.microsteps / mode
  const nominal = input.fullStepDeg / mode
  const increments: Increment[] = []
  for (let k = (input.fullStepCommand % stride) + stride; k < angles.length; k += stride) {
    const u = Math.hypot(input.uDeg[k] ?? 0, input.uDeg[k - stride] ?? 0)
    increments.push({ size: ((angles[k] ?? 0) - (angles[k - stride] ?? 0)) / nominal, expanded: (coverageFactor * u) / nominal })
  }
  return increments
}

const worstOf = (increments: readonly Increment[]): Increment | undefined =>
  increments.reduce<Increment | undefined>((worst, next) => (worst && Math.abs(worst.size - 1) >= Math.abs(next.size - 1) ? worst : next), undefined)

const rounding = 1e-9

/** Chance that the worst of so many increments of an even motor would read this far off, by marking alone. */
const byChance = (worst: Increment, howMany: number): number =>
  worst.expanded === 0 ? 0 : Math.min(1, howMany * 2 * normalCdf((-coverageFactor * Math.abs(worst.size - 1)) / worst.expanded, 0, 1))

/** How many positions per full step the marks could have shown: two marks 2u apart are told apart. */
export const resolvablePerFullStep = (fullStepDeg: number, uDeg: number): number => (uDeg > 0 ? fullStepDeg / (2 * uDeg) : Number.POSITIVE_INFINITY)

const judgeReading = (increments: readonly Increment[], { low, high }: IncrementLimits): { verdict: Verdict; why: string } => {
  const worst = worstOf(increments)
  if (!worst) return { verdict: 'not proven', why: 'the trace is too short to hold one step of this mode' }
  const inside = increments.every(({ size, expanded }) => size - expanded >= low - rounding && size + expanded <= high + rounding)
  const said = `the worst of ${increments.length} increments is ${worst.size.toFixed(2)} ± ${worst.expanded.toFixed(2)} of nominal`
  if (inside) return { verdict: 'holds', why: `${said}, inside ${low} to ${high}` }
  const outside = increments.some(({ size, expanded }) => size + expanded < low - rounding || size - expanded > high + rounding)
  if (!outside) return { verdict: 'not proven', why: `${said}, and ${low} to ${high} cuts through what the marks leave open` }
  const chance = byChance(worst, increments.length)
  return chance < 0.05
    ? { verdict: 'fails', why: `${said}, outside ${low} to ${high}` }
    : { verdict: 'not proven', why: `${said}, but among so many increments marking alone would do that with probability ${chance.toFixed(2)}` }
}

const together = (verdicts: readonly Verdict[]): Verdict => {
  const [first] = verdicts
  return first && verdicts.every((verdict) => verdict === first) ? first : 'not proven'
}

/**
 * One mode: holds when every increment lies within the limits beyond its own U, fails when one lies outside beyond U,
 * otherwise not proven (the decision zone of ISO 14253-1 and JCGM 106). When the jumps can be read in two ways, both
 * must agree. A mode finer than the marks could have shown is never judged.
 */
export const judgeMode = (input: ModeInput, mode: number): ModeVerdict => {
  const readings = input.readings.map((angles) => incrementsOfMode(angles, input, mode))
  const judged = readings.map((increments) => judgeReading(increments, input.limits))
  const worst = worstOf(readings.flat())
  const verdict = together(judged.map((each) => each.verdict))
  const worstIncrement = worst ? ([worst.size - worst.expanded, worst.size + worst.expanded] as const) : null
  const u = Math.sqrt(input.uDeg.reduce((sum, value) => sum + value * value, 0) / input.uDeg.length)
  const shown = resolvablePerFullStep(input.fullStepDeg, u)
  if (mode > shown * (1 + rounding))
    return { microsteps: mode, verdict: 'not proven', worstIncrement, why: `the rig tells apart about ${shown.toPrecision(2)} positions per full step, so ${mode} could not have shown: this says nothing about the motor` }
  const told = judged.find((each) => each.verdict === verdict)
  return { microsteps: mode, verdict, worstIncrement, why: told?.why ?? 'it depends on which command of a merged run made the jump; number the marks to settle it' }
}

/** Every divisor of N, coarse to fine. */
export const modesOf = (microsteps: number): number[] => Array.from({ length: microsteps }, (_, i) => i + 1).filter((n) => microsteps % n === 0)
