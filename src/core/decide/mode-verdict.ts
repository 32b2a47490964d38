import { rms } from '#core/numeric/moments'
import { failChance, falseAlarm } from './fail-chance.ts'
import { furtherFor, type FurtherMeasurement, furtherMeasurement } from './further-measurement.ts'
import { incrementsOfMode, type Increment, type ModeInput, type OtherReading } from './mode-increments.ts'
import { type Sensitivity, sensitivityOf } from './sensitivity.ts'
import { zoneOf } from './zone.ts'
import { twoDigits } from '#core/quantity/write-number'

export type Verdict = 'holds' | 'fails' | 'not proven'

/** One step mode judged on the measured trace. */
export interface ModeVerdict {
  readonly microsteps: number
  readonly verdict: Verdict
  /**
   * The increment furthest from nominal ∓ its U, in nominal increments of this mode, as `why` names it; from the lowest to the
   * highest of them where readings of the jumps or other suppositions disagree; null with no increment.
   */
  readonly worstIncrement: readonly [low: number, high: number] | null
  readonly why: string
  /** null with no increment. */
  readonly sensitivity: Sensitivity | null
  /** Only for a verdict that is not proven and that a smaller u would settle. */
  readonly toSettle: FurtherMeasurement | null
}

const worstOf = (increments: readonly Increment[]): Increment | undefined =>
  increments.reduce<Increment | undefined>((worst, next) => (worst && Math.abs(worst.size - 1) >= Math.abs(next.size - 1) ? worst : next), undefined)

const rounding = 1e-9

/** How many positions per full step the marks could have shown: two marks 2u apart are told apart. */
export const resolvablePerFullStep = (fullStepDeg: number, uDeg: number): number => (uDeg > 0 ? fullStepDeg / (2 * uDeg) : Number.POSITIVE_INFINITY)

/** An increment and its U to two digits of U, at least two decimals. */
const withU = ({ size, expanded }: Increment): string => {
  const decimals = expanded > 0 ? Math.min(6, Math.max(2, 1 - Math.floor(Math.log10(expanded)))) : 2
  return `${size.toFixed(decimals)} ± ${expanded.toFixed(decimals)}`
}

const judgeReading = (increments: readonly Increment[], { limits, coverageFactor }: ModeInput, mode: number): { verdict: Verdict; why: string } => {
  const worst = worstOf(increments)
  if (!worst) return { verdict: 'not proven', why: 'the trace is too short to hold one step of this mode' }
  const { low, high } = limits
  const said = `the worst of ${increments.length} increments is ${withU(worst)} of nominal`
  const zones = increments.map(({ size, expanded }) => zoneOf(size, expanded, limits))
  if (zones.every((zone) => zone === 'inside')) return { verdict: 'holds', why: `${said}, inside ${low} to ${high}` }
  if (!zones.includes('outside')) return { verdict: 'not proven', why: `${said}, and ${low} to ${high} cuts through what the marks leave open` }
  const chance = failChance(increments, { phases: 4 * mode, coverageFactor, limits, alone: 'nominal' })
  return chance < falseAlarm
    ? { verdict: 'fails', why: `${said}, outside ${low} to ${high}` }
    : { verdict: 'not proven', why: `${said}, but among so many increments marking alone would do that with probability ${chance.toFixed(2)}` }
}

const guessed = 'nobody stated how well the marks are placed, and fewer than two electrical cycles cannot show it: give mark-uncertainty'

/** From the lowest to the highest of increments, each ∓ its U. */
const rangeOf = (increments: readonly Increment[]): readonly [low: number, high: number] | null =>
  increments.length === 0 ? null : [Math.min(...increments.map(({ size, expanded }) => size - expanded)), Math.max(...increments.map(({ size, expanded }) => size + expanded))]

const together = (verdicts: readonly Verdict[]): Verdict => {
  const [first] = verdicts
  return first && verdicts.every((verdict) => verdict === first) ? first : 'not proven'
}

interface Judged {
  readonly verdict: Verdict
  readonly why: string
}

const differing = (whys: readonly string[], joint: string): string => [...new Set(whys)].join(joint)

/** What the readings of one trace say that do not agree, and what would settle it. */
const disagreement = (jumps: readonly Judged[], others: readonly (Judged & OtherReading)[]): string => {
  const [first] = jumps
  const here = differing(jumps.map(({ why }) => why), '; or, with jumps at other commands of their marks, ')
  const other = others.find(({ verdict }) => verdict !== first?.verdict)
  if (jumps.some(({ verdict }) => verdict !== first?.verdict) || !other) return `${here}: number the marks to settle at which command the shaft jumped, or whether a mark was left out`
  return `${first?.why}; or, ${other.supposed}, ${other.why}: ${other.toSettle} to settle it`
}

/**
 * One mode: holds when every increment lies within the limits beyond its own U, fails when one lies outside beyond U,
 * otherwise not proven (the decision zone of ISO 14253-1 and JCGM 106). When the jumps can be read in two ways, or the
 * commands be counted in several that are nearly as likely, or the foot be unknown, all must agree. A mode finer than the marks could have shown is never judged.
 * @param passes runs whose mean is judged
 */
export const judgeMode = (input: ModeInput, mode: number, passes = 1): ModeVerdict => {
  const own = input.readings.length
  const others = input.others ?? []
  const readings = [...input.readings.map((anglesDeg) => ({ anglesDeg })), ...others].map(({ anglesDeg, ...supposed }) => incrementsOfMode(anglesDeg, { ...input, ...supposed }, mode))
  const judged = readings.map((increments) => ({ ...judgeReading(increments, input, mode), worst: worstOf(increments) }))
  const verdict = together(judged.map((each) => each.verdict))
  const agree = judged.every((each) => each.verdict === verdict)
  const soFar = { uDeg: rms(input.uDeg), passes, coverageFactor: input.coverageFactor }
  const shown = resolvablePerFullStep(input.fullStepDeg, soFar.uDeg)
  const worst = worstOf(judged.flatMap((each) => each.worst ?? []))
  const place = Math.max(0, judged.findIndex((each) => each.worst === worst))
  const supposed = place < own ? (place > 0 ? ', with jumps at other commands of their marks' : '') : `, ${others[place - own]?.supposed}`
  const found = { microsteps: mode, worstIncrement: agree ? rangeOf(worst ? [worst] : []) : rangeOf(judged.flatMap((each) => each.worst ?? [])), sensitivity: worst ? sensitivityOf(readings, input.limits) : null }
  if (input.unsettled) return { ...found, verdict: 'not proven', why: input.unsettled, toSettle: null }
  if (input.uGuessed) return { ...found, verdict: 'not proven', why: guessed, toSettle: null }
  if (mode > shown * (1 + rounding)) {
    const why = `the rig tells apart about ${twoDigits(shown)} positions per full step, so ${mode} could not have shown: this says nothing about the motor`
    return { ...found, verdict: 'not proven', why, toSettle: furtherFor(shown / mode, 'shows', soFar) }
  }
  const why = agree ? `${judged[place]?.why ?? ''}${supposed}` : disagreement(judged.slice(0, own), others.map((other, i) => ({ ...other, ...(judged[own + i] as Judged) })))
  return { ...found, verdict, why, toSettle: verdict === 'not proven' && agree ? furtherMeasurement(readings[0] ?? [], { mode, limits: input.limits }, soFar) : null }
}
