import { unsettledSteps } from '#core/assign/other-steps'
import { asLeftOut } from '#core/assign/rests'
import { nameAt } from '#core/assign/runs'
import { incrementScaleU } from '#core/figures/increment-scale'
import { mismatchSentence, scaleMismatch, unsettledScale } from '#core/figures/scale-mismatch'
import { corrected, type Straight, type StraightenInput } from '#core/figures/straighten'
import { impossibleMarks, strayMarks } from '#core/figures/stray-marks'
import { strayRepeats } from '#core/figures/stray-repeats'
import { rms } from '#core/numeric/moments'
import { isFoot } from '#core/rig/slow-errors'
import { type FullStepPhase, fullStepPhase } from './full-step-phase.ts'
import { type IncrementLimits, type ModeInput, modesOf } from './mode-increments.ts'
import { judgeMode, type ModeVerdict } from './mode-verdict.ts'
import { withFullSteps } from './other-readings.ts'
import { partOfCycle } from './part-of-cycle.ts'
import { recommend, type Recommendation } from './recommend.ts'
import { strayRepeatSentence, straySentence } from './stray-sentence.ts'
import { footIsOpen, type WaysToRead } from './ways-to-read.ts'

/** A verdict for every step mode, and the mode to trust. */
export interface Decision {
  readonly phase: FullStepPhase
  /** Coarse to fine. */
  readonly modes: readonly ModeVerdict[]
  readonly recommendation: Recommendation
  readonly warnings: readonly string[]
}

/** Marks that stand alone, named with the verdicts that hang on them. */
const straysOf = ({ trace, run, passes: { main, opposite } }: StraightenInput, { errorsDeg, lost }: Straight, judged: ModeInput, modes: readonly ModeVerdict[]): string[] => {
  const withoutThem = (places: readonly number[]): ModeVerdict[] => {
    const readings = judged.readings.slice(0, 1).map((angles) => asLeftOut(angles, places))
    return modes.map((mode) => judgeMode({ ...judged, readings }, mode.microsteps))
  }
  if (main.repeated) {
    if (main.jumpsUnknown || lost) return []
    const strays = [main, ...(opposite ? [opposite] : [])].flatMap((runs) => strayRepeats(runs, rms(runs.uDeg.map((u) => u ?? 0)) * Math.sqrt(runs.runs.length)))
    const judgedOnes = strays.filter(({ back }) => back === (main.runs[0]?.direction === -1))
    return strays.length === 0 ? [] : strayRepeatSentence(strays, { modes, without: withoutThem(judgedOnes.map(({ place }) => place)) })
  }
  const { microsteps, stepsPerRev } = trace.motor
  const impossible = impossibleMarks(errorsDeg, { microsteps, fullStepDeg: 360 / stepsPerRev })
  const strays = impossible.length > 0 ? impossible : main.jumpsUnknown || lost ? [] : strayMarks(errorsDeg, { microsteps, uDeg: rms(main.uDeg.map((u) => u ?? 0)) })
  const places = strays.map(({ place }) => place)
  return strays.length === 0 ? [] : straySentence(strays, { names: places.map((place) => nameAt(run, place)), modes, without: withoutThem(places) })
}

/** A mode that holds in the mean of several passes is not proven while one of them fails it: a mean may hide what one pass shows. */
const inEveryPass = (modes: readonly ModeVerdict[], judged: ModeInput, { located, passes: { main } }: StraightenInput, { correctionDeg }: Straight): readonly ModeVerdict[] => {
  const { runs, table } = main
  if (runs.length < 2) return modes
  // As stated for one mark: what passes scatter beyond it may be the very thing that one of them shows.
  const ofMean = main.uDeg.every((u) => u !== null) ? main.uDeg.map((u) => Math.hypot(u ?? 0, located.readingUDeg / Math.sqrt(runs.length))) : judged.uDeg
  const uDeg = ofMean.map((u) => u * Math.sqrt(runs.length))
  const places = [judged.fullStepPlace, ...(judged.others ?? []).flatMap(({ fullStepPlace }) => fullStepPlace ?? [])]
  const passes = table.flatMap((row, p) => places.map((fullStepPlace) => ({ pass: runs[p]?.pass ?? p + 1, input: { ...judged, fullStepPlace, readings: [corrected(row, correctionDeg)], others: [], uDeg } })))
  return modes.map((mode) => {
    if (mode.verdict !== 'holds') return mode
    const failing = passes.map(({ pass, input }) => ({ pass, alone: judgeMode(input, mode.microsteps) })).find(({ alone }) => alone.verdict === 'fails')
    return failing ? { ...mode, verdict: 'not proven', why: `in the mean of ${runs.length} passes ${mode.why}; but in pass ${failing.pass} alone ${failing.alone.why}: mark that pass again` } : mode
  })
}

export interface DecideBy {
  readonly ways: WaysToRead
  readonly limits: IncrementLimits
}

/** What the rig's lengths leave in every increment; a foot that is supposed at either edge of where it may lie counts there. */
const sharedScale = ({ trace, located: { slow }, run }: StraightenInput, straight: Straight): number => {
  if (!footIsOpen(trace, straight)) return straight.known.incrementScaleU
  const lengths = slow.lengths.map((length) => (isFoot(length) ? { ...length, uMm: 0 } : length))
  return incrementScaleU(straight.anglesDeg, { ...slow, lengths }, run.ordered)
}

/** Judges every step mode by every way to read the marks. */
export const decide = (input: StraightenInput, straight: Straight, { ways, limits }: DecideBy): Decision => {
  const { trace, run, located, passes } = input
  const { anglesDeg, errorsDeg, known } = straight
  const { stepsPerRev, microsteps } = trace.motor
  const fullStepDeg = 360 / stepsPerRev
  const phase = fullStepPhase({ anglesDeg, firstCommand: passes.main.commands[0] ?? 0 }, microsteps, trace.fullStepCommand)
  const mismatch = straight.lost ? null : scaleMismatch(errorsDeg, { microsteps, microstepDeg: fullStepDeg / microsteps })
  const unsettled = run.otherSteps?.contradicts ? unsettledSteps(stepsPerRev) : mismatch === null ? null : unsettledScale(mismatch)
  const judged: ModeInput = { ...ways, others: [...ways.others, ...withFullSteps(anglesDeg, phase)], uDeg: known.uDeg, coverageFactor: known.coverageFactor, incrementScaleU: sharedScale(input, straight), fullStepDeg, microsteps, fullStepPlace: phase.place, limits, uGuessed: known.uGuessed ?? false, unsettled }
  const inTheMean = modesOf(microsteps).map((mode) => judgeMode(judged, mode, passes.main.runs.length))
  const modes = inEveryPass(inTheMean, judged, input, straight)
  const mismatched = mismatch === null ? [] : [mismatchSentence(mismatch, { stepsPerRev, lengths: located.slow.lengths.map(({ source }) => source) })]
  return { phase, modes, recommendation: recommend(modes), warnings: [...mismatched, ...partOfCycle(modes, { commands: anglesDeg.length - 1, microsteps }), ...straysOf(input, straight, judged, modes)] }
}
