import chiSquaredQuantile from '@stdlib/stats-base-dists-chisquare-quantile'
import { rms } from '#core/numeric/moments'
import { combined, type Contribution } from '#core/rig/budget'
import { repeatScatter, type Scatter } from './mark-uncertainty.ts'

/** Each rest's own standard uncertainty settled, with where it comes from. */
export interface SettledMarks {
  readonly uDeg: readonly number[]
  readonly contributions: readonly Contribution[]
  readonly warnings: readonly string[]
  /** Nobody stated how well marks are placed and the trace is too short to show it: the last digit typed is all there is. */
  readonly guessed: boolean
}

export interface MarkKnowledge {
  readonly anglesDeg: readonly number[]
  /** As stated per rest; null where nobody did. */
  readonly statedDeg: readonly (number | null)[]
  /** From the last digit typed, deg; 0 for a photo. */
  readonly readingDeg: number
  readonly microsteps: number
  /** Scatter of one run among repeated ones, and how many were averaged; null with a single run. */
  readonly repeated: (Scatter & { readonly runs: number }) | null
  readonly source: 'marking' | 'detection'
  /** What makes up the stated uncertainty where it was told apart. */
  readonly parts?: readonly Pick<Contribution, 'source' | 'uDeg' | 'note'>[]
  /** Whether the stated uncertainties say how well the marks were placed; a photo alone says only how well they are seen. */
  readonly placed: boolean
}

/** One chance in a thousand that marks as good as stated would scatter so. */
const doubtful = 0.999

const notes = {
  marking: 'as stated for one mark: line width, parallax and hand together',
  detection: 'as found for each stroke in the photo',
} as const

const partOf = (source: string, uDeg: number, { degreesOfFreedom = null, note }: { readonly degreesOfFreedom?: number | null; readonly note: string }): Contribution => ({ source, uDeg, kind: 'mark', degreesOfFreedom, note })

/** What the repeats of the trace say about the uncertainty stated. */
const compared = (statedDeg: number, scatter: Scatter | null): string[] => {
  if (!scatter || !(statedDeg > 0)) return []
  const ratio = (scatter.uDeg / statedDeg) ** 2 * scatter.degreesOfFreedom
  const words = `${scatter.uDeg.toPrecision(2)}° where ${statedDeg.toPrecision(2)}° is stated for a mark`
  if (ratio > chiSquaredQuantile(doubtful, scatter.degreesOfFreedom)) return [`From one electrical cycle to the next the rests scatter by ${words}: either the marks are worse than stated or the motor does not repeat.`]
  if (ratio < chiSquaredQuantile(1 - doubtful, scatter.degreesOfFreedom)) return [`From one electrical cycle to the next the rests scatter by ${scatter.uDeg < statedDeg / 100 ? `next to nothing where ${statedDeg.toPrecision(2)}° is stated for a mark` : `only ${words}`}: a smaller mark-uncertainty would give sharper verdicts.`]
  return []
}

/** A reading this much finer than the marks adds less than one part in a hundred to them. */
const negligible = 0.14

const asStated = (statedDeg: readonly number[], scatter: Scatter | null, { readingDeg, source, parts = [] }: MarkKnowledge): SettledMarks => {
  const u = rms(statedDeg)
  const fine = u === 0 || readingDeg <= negligible * u
  const uDeg = fine ? statedDeg : statedDeg.map((each) => Math.hypot(each, readingDeg))
  // Means of several runs know a mark better than one; the parts shrink alike.
  const shrunk = parts.length > 0 ? u / combined(parts) : 1
  const stated = parts.length > 0 ? parts.map((part) => partOf(part.source, part.uDeg * shrunk, part)) : [partOf(source, u, { note: notes[source] })]
  const contributions = [...stated, ...(fine ? [] : [partOf('reading', readingDeg, { note: 'last digit typed, over √12' })])]
  const coarse = fine || readingDeg <= u ? [] : [`The positions were typed more coarsely (${readingDeg.toPrecision(2)}° from the last digit alone) than marks are said to be placed; both are counted.`]
  return { uDeg, contributions, warnings: [...coarse, ...compared(rms(uDeg), scatter)], guessed: false }
}

/** What repeated runs show beyond the marks as stated, in the mean of them. */
const beyondMarks = (statedDeg: number, { repeated }: MarkKnowledge): Contribution[] => {
  if (!repeated) return []
  const ofMean = repeated.uDeg / Math.sqrt(repeated.runs)
  const more = Math.sqrt(Math.max(0, ofMean * ofMean - statedDeg * statedDeg))
  const note = `${repeated.uDeg.toPrecision(2)}° from run to run, over √${repeated.runs}${statedDeg > 0 ? '; what the marks as stated do not explain' : ': marks and motor together'}`
  return more > 0 ? [partOf('repeatability', more, { degreesOfFreedom: repeated.degreesOfFreedom, note })] : []
}

/** What the hand and the motor add to how well a photo shows the strokes, told from the cycles of the trace. */
const withPlacing = (settled: SettledMarks, scatter: Scatter | null): SettledMarks => {
  const seen = rms(settled.uDeg)
  const more = Math.sqrt(Math.max(0, (scatter?.uDeg ?? 0) ** 2 - seen * seen))
  const uncertain = 'Nobody stated how well the marks were placed on the paper, only how well the photo shows them: give mark-uncertainty (for a fine pen about 0.2 mm at the radius of the marks).'
  if (!scatter || more === 0) return { ...settled, warnings: scatter ? [] : [uncertain], guessed: scatter === null }
  const note = `${scatter.uDeg.toPrecision(2)}° from cycle to cycle, beyond what the photo shows of a stroke: hand and motor together`
  const said = `The photo shows a stroke to ${seen.toPrecision(2)}°, but from cycle to cycle the marks scatter by ${scatter.uDeg.toPrecision(2)}°; the difference is counted as their placing. Give mark-uncertainty if you know how well they were placed.`
  return {
    uDeg: settled.uDeg.map((u) => Math.hypot(u, more)),
    contributions: [...settled.contributions, partOf('placing of the marks', more, { degreesOfFreedom: scatter.degreesOfFreedom, note })],
    warnings: [said],
    guessed: false,
  }
}

const withRepeats = (settled: SettledMarks, knowledge: MarkKnowledge): SettledMarks => {
  const more = beyondMarks(rms(settled.uDeg), knowledge)
  const extra = combined(more)
  return { ...settled, uDeg: settled.uDeg.map((u) => Math.hypot(u, extra)), contributions: [...settled.contributions, ...more] }
}

const notStated = (scatter: Scatter | null, { readingDeg, statedDeg }: MarkKnowledge): SettledMarks => {
  const byRepeats = scatter !== null && scatter.uDeg >= readingDeg
  const u = byRepeats ? scatter.uDeg : readingDeg
  const from = byRepeats ? 'repeat scatter' : 'reading'
  const note = byRepeats ? 'scatter of the increments from cycle to cycle: marks and motor together' : 'last digit typed, over √12; the marks themselves may be worse'
  const said = `Nobody stated how well a mark is placed; ${u.toPrecision(2)}° was taken from the ${byRepeats ? "trace's own repeats" : 'last digit typed'}. Give mark-uncertainty (for a fine pen about 0.2 mm at the radius of the marks) for a verdict that can be relied on.`
  const part = partOf(from, u, { degreesOfFreedom: byRepeats ? scatter.degreesOfFreedom : null, note })
  return { uDeg: statedDeg.map((stated) => stated ?? u), contributions: [part], warnings: [said], guessed: scatter === null }
}

/**
 * Stated uncertainties are taken as they are (and held against the trace's own repeats). Where there are none, the
 * scatter of repeated runs is used, else that of the cycles within the run, or the last digit typed where it repeats too
 * little; each is said.
 */
export const settleMarks = (knowledge: MarkKnowledge): SettledMarks => {
  const { anglesDeg, statedDeg, microsteps } = knowledge
  const scatter = repeatScatter(anglesDeg, microsteps)
  const stated = statedDeg.flatMap((u) => (u === null ? [] : [u]))
  if (stated.length === statedDeg.length) {
    const settled = asStated(stated, scatter, knowledge)
    return withRepeats(knowledge.placed ? settled : withPlacing(settled, scatter), knowledge)
  }
  if (knowledge.repeated) return withRepeats({ uDeg: statedDeg.map(() => 0), contributions: [], warnings: [], guessed: false }, knowledge)
  return notStated(scatter, knowledge)
}
