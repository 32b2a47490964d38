import { onOnePaper } from '#core/assign/paper-frame'
import { asLeftOut } from '#core/assign/rests'
import { unsettledSteps } from '#core/assign/other-steps'
import { countedOtherwise, lineAt, mainRun, runsOf } from '#core/assign/runs'
import { fullStepPhase } from '#core/decide/full-step-phase'
import { type IncrementLimits, modesOf, usualLimits } from '#core/decide/mode-increments'
import { otherCounting, withFeet } from '#core/decide/other-readings'
import { judgeMode, resolvablePerFullStep } from '#core/decide/mode-verdict'
import { recommend } from '#core/decide/recommend'
import { straySentence } from '#core/decide/stray-sentence'
import { chordWander, countOfPattern } from '#core/figures/chord-wander'
import { figuresOf, roughFigures } from '#core/figures/figures'
import { meanRun } from '#core/figures/mean-run'
import { creepWithin, passesOf } from '#core/figures/passes'
import { positionErrors } from '#core/figures/position-errors'
import { rigFaults } from '#core/figures/rig-faults'
import { mismatchSentence, scaleMismatch, unsettledScale } from '#core/figures/scale-mismatch'
import { contradictions, settleLengths, withSettled } from '#core/figures/settle-lengths'
import { settleMarks } from '#core/figures/settle-uncertainty'
import { strayMarks } from '#core/figures/stray-marks'
import type { Trace } from '#core/ingest/trace'
import { explain, notSought } from '#core/motor/explain'
import { rms } from '#core/numeric/moments'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { resultOf } from '#core/report/result'
import type { Result } from '#core/report/result-schema'
import { combined, coverageFactorFor, effectiveDegreesOfFreedom } from '#core/rig/budget'
import { locate } from '#core/rig/locate'

export interface MeasureOptions {
  /** Seed of every sampling; the same seed gives the same document. */
  readonly seed?: number
  /** How the intervals of the motor's parameters are found: `linear` answers within a frame while a mark is dragged. */
  readonly intervals?: 'sampled' | 'linear'
  readonly limits?: IncrementLimits
  /** False leaves the search for a cause out: everything else is there in a moment, as a page needs it while marks are moved. */
  readonly cause?: boolean
}

/**
 * The whole flow: marks → shaft angles → commands → rests → mean of repeated runs → rig faults taken off → figures →
 * verdict per mode → recommendation → cause → result document.
 */
export const measure = (trace: Trace, options: MeasureOptions = {}): Result | Unmeasurable => {
  const { seed = 1, intervals = 'sampled', limits = usualLimits, cause = true } = options
  const { stepsPerRev, microsteps } = trace.motor
  const fullStepDeg = 360 / stepsPerRev

  const located = locate(trace)
  if (isUnmeasurable(located)) return located
  const runs = runsOf(trace, located)
  if (isUnmeasurable(runs)) return runs
  const run = mainRun(runs)
  const framed = onOnePaper(runs, run, located.turnDeg)
  const passes = passesOf(framed, { fullStepDeg, microsteps })
  const { earlyDeg, lateDeg, uDeg: statedDeg, jumpsUnknown, repeated } = passes.main

  const marks = settleMarks({ anglesDeg: earlyDeg, statedDeg, readingDeg: located.readingUDeg, microsteps, repeated, source: trace.ordered ? 'marking' : 'detection', parts: trace.ordered ? located.parts : [], placed: trace.ordered || trace.markUncertainty !== null })
  const lengths = settleLengths(earlyDeg, located.slow, { microsteps, microstepDeg: fullStepDeg / microsteps, startDeg: run.ordered.startDeg, sign: run.ordered.sign, uDeg: rms(marks.uDeg) })
  const unbent = earlyDeg.map((angle, k) => angle - (lengths.correctionDeg[k] ?? 0))
  const faults = rigFaults(positionErrors(unbent, fullStepDeg / microsteps), { stepsPerRev, microsteps, goesRound: located.turnDeg !== null })
  const wander = trace.rig.kind === 'chord' ? chordWander(positionErrors(unbent, fullStepDeg / microsteps), { microsteps, uDeg: rms(marks.uDeg) }) : []
  const contributions = [...marks.contributions, ...withSettled(located.common, lengths), ...faults.contributions, ...creepWithin(passes), ...wander]

  const commonUDeg = combined(contributions.filter(({ kind }) => kind === 'common'))
  const uFreedom = effectiveDegreesOfFreedom(marks.contributions)
  const coverageFactor = coverageFactorFor(uFreedom)
  const correctionDeg = faults.correctionDeg.map((fault, k) => fault + (lengths.correctionDeg[k] ?? 0))
  const straightened = (angles: readonly number[]): number[] => angles.map((angle, k) => angle - (correctionDeg[k] ?? 0))
  const known = { uDeg: marks.uDeg, commonUDeg, coverageFactor, uFreedom: uFreedom ?? Number.POSITIVE_INFINITY, stepsPerRev, microsteps, turnDeg: located.turnDeg, uGuessed: marks.guessed }
  const figures = (anglesDeg: readonly number[]) => figuresOf({ anglesDeg, ...known })
  const anglesDeg = straightened(earlyDeg)
  const early = figures(anglesDeg)
  const late = jumpsUnknown ? figures(straightened(lateDeg)) : early
  const before = faults.removed.length > 0 || lengths.lengths.length > 0 ? roughFigures({ anglesDeg: earlyDeg, ...known }) : early

  const mismatch = scaleMismatch(early.errorsDeg, { microsteps, microstepDeg: fullStepDeg / microsteps })
  const phase = fullStepPhase({ anglesDeg, firstCommand: passes.main.commands[0] ?? 0 }, microsteps, trace.fullStepCommand)
  const bothJumps = jumpsUnknown ? [anglesDeg, straightened(lateDeg)] : [anglesDeg]
  const readings = run.assignment.perhapsLeftOut.length > 0 && !repeated ? [...bothJumps, asLeftOut(anglesDeg, run.assignment.perhapsLeftOut)] : bothJumps
  const readOtherwise = countedOtherwise(run, located.turnDeg).flatMap((other) => {
    const { earlyDeg: first, lateDeg: last } = meanRun([...onOnePaper([other], other, located.turnDeg), ...passes.main.runs.slice(1)])
    const [jumped, landed] = [straightened(first), straightened(last)]
    return [jumped, ...(jumpsUnknown ? [landed] : []), ...(other.assignment.perhapsLeftOut.length > 0 && !repeated ? [asLeftOut(jumped, other.assignment.perhapsLeftOut)] : [])]
  })
  const feet = trace.rig.kind === 'mirror' && trace.rig.footMm === null && lengths.lengths.length === 0 ? withFeet(anglesDeg, located.slow, run.ordered) : []
  const others = [...feet, ...readOtherwise.map((angles) => otherCounting(angles, run.assignment.labelsToSettle))]
  const unsettled = run.otherSteps?.contradicts ? unsettledSteps(stepsPerRev) : mismatch === null ? null : unsettledScale(mismatch)
  const judged = { readings, others, uDeg: marks.uDeg, coverageFactor, fullStepDeg, microsteps, fullStepPlace: phase.place, limits, uGuessed: marks.guessed, unsettled }
  const modes = modesOf(microsteps).map((mode) => judgeMode(judged, mode, passes.main.runs.length))
  const strays = repeated || jumpsUnknown ? [] : strayMarks(early.errorsDeg, { microsteps, uDeg: rms(statedDeg.map((u) => u ?? 0)) })
  const without = strays.length === 0 ? [] : modes.map(({ microsteps: mode }) => judgeMode({ ...judged, readings: [asLeftOut(anglesDeg, strays.map(({ place }) => place))] }, mode))
  const why = !cause ? notSought : explain({ runs: framed, correctionDeg, uDeg: rms(marks.uDeg), stepsPerRev, microsteps, jumpsUnknown, seed, intervals })
  const otherCounts = [...readOtherwise.map((angles) => roughFigures({ ...known, anglesDeg: angles }).effectiveMicrosteps.value), ...(wander.length > 0 ? [countOfPattern(early.errorsDeg, { microsteps, microstepDeg: fullStepDeg / microsteps })] : [])]
  const warnings = [...trace.warnings, ...located.warnings, ...runs.flatMap(({ ordered, assignment }) => [...ordered.warnings, ...assignment.warnings]), ...passes.warnings, ...contradictions(lengths), ...(mismatch === null ? [] : [mismatchSentence(mismatch, { stepsPerRev, lengths: located.slow.lengths.map(({ source }) => source) })]), ...straySentence(strays, { lines: strays.map(({ place }) => lineAt(run, place)), modes, without }), ...marks.warnings, ...why.warnings]

  return resultOf(
    { trace, run, passes, anglesDeg, uDeg: marks.uDeg, contributions, early, late, otherCounts, faults, lengths: lengths.lengths, before, phase, modes, recommendation: recommend(modes), why, resolvable: resolvablePerFullStep(fullStepDeg, rms(marks.uDeg)), warnings },
    { seed, intervals, limits },
  )
}
