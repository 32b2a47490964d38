import type { Run } from '#core/assign/runs'
import type { Decision } from '#core/decide/decide'
import type { IncrementLimits } from '#core/decide/mode-increments'
import { resolvablePerFullStep } from '#core/decide/mode-verdict'
import type { WaysToRead } from '#core/decide/ways-to-read'
import type { RunFigures } from '#core/figures/figures-of-run'
import { incrementU } from '#core/figures/motion'
import type { Passes } from '#core/figures/passes'
import type { Folded, RepeatPattern } from '#core/figures/repeat-pattern'
import { overBoth, type SizeIntervals } from '#core/figures/size-intervals'
import type { Straight } from '#core/figures/straighten'
import type { Motor, Trace } from '#core/ingest/trace'
import type { Explanation } from '#core/motor/explain'
import { rms } from '#core/numeric/moments'
import { combined, coverageFactorFor, coverageProbability, effectiveDegreesOfFreedom } from '#core/rig/budget'
import { directionsTable, passTable } from './pass-table.ts'
import type { Result } from './result-schema.ts'

/** Everything the stages found, before it becomes a document. */
export interface Measured {
  readonly trace: Trace
  readonly run: Run
  readonly passes: Passes
  readonly straight: Straight
  readonly figures: RunFigures
  readonly ways: WaysToRead
  readonly decision: Decision
  readonly why: Explanation
  readonly warnings: readonly string[]
}

export interface ResultSettings {
  readonly seed: number
  readonly intervals: 'sampled' | 'linear'
  readonly limits: IncrementLimits
}

/** The microsteps are finer than the marks could have shown, so nothing is said about them one by one. */
export const finerThanMarks = (motor: Motor, markDeg: number): boolean => 360 / motor.stepsPerRev / motor.microsteps <= incrementU(markDeg)

const restRows = ({ passes, straight: { anglesDeg, known }, figures: { early, late }, trace }: Measured, judged: boolean): Result['rests'] => {
  const microstepDeg = 360 / trace.motor.stepsPerRev / trace.motor.microsteps
  return passes.main.commands.map((command, k) => {
    const pair = [early.errorsDeg[k] ?? 0, late.errorsDeg[k] ?? 0]
    const motion = k === 0 || !judged ? null : (early.motions[k - 1] ?? null)
    const increment = (value: number | undefined): number | null => (k === 0 || value === undefined ? null : value / microstepDeg)
    return {
      command,
      angleDeg: anglesDeg[k] ?? 0,
      errorDeg: pair[0] ?? 0,
      errorRangeDeg: [Math.min(...pair), Math.max(...pair)],
      uDeg: known.uDeg[k] ?? 0,
      incrementMicrosteps: increment(early.incrementsDeg[k - 1]),
      incrementUMicrosteps: increment(early.incrementUDeg[k - 1]),
      merged: motion === null ? null : motion === 'merged',
      reversed: motion === null ? null : motion === 'reversed',
    }
  })
}

const sizeTable = ({ peakDeg, peakToPeakDeg, rmsDeg, incrementErrorMaxMicrosteps, largestIncrementDeg }: SizeIntervals): Result['figures']['sizeIntervals'] => ({
  positionErrorPeakDeg: [...peakDeg],
  positionErrorPeakToPeakDeg: [...peakToPeakDeg],
  positionErrorRmsDeg: [...rmsDeg],
  incrementErrorMaxMicrosteps: [...incrementErrorMaxMicrosteps],
  largestIncrementDeg: [...largestIncrementDeg],
})

const figureTable = ({ figures: { early, late }, ways: { otherCounts }, passes, trace }: Measured, judged: boolean): Result['figures'] => {
  const fullStepDeg = 360 / trace.motor.stepsPerRev
  const open = passes.main.jumpsUnknown
  const { effectiveMicrosteps: first } = early
  const { effectiveMicrosteps: last } = late
  const gapEffective = judged ? early.gapEffective : null
  return {
    positionErrorPeakDeg: early.size.peakDeg,
    positionErrorPeakToPeakDeg: early.size.peakToPeakDeg,
    positionErrorRmsDeg: early.size.rmsDeg,
    positionErrorMidRangePeakDeg: early.size.midRangePeakDeg,
    positionErrorPeakMicrosteps: (early.size.peakDeg / fullStepDeg) * trace.motor.microsteps,
    positionErrorPeakToPeakPercentFullStep: (early.size.peakToPeakDeg / fullStepDeg) * 100,
    incrementErrorMaxMicrosteps: early.incrementErrorMaxMicrosteps,
    largestIncrementDeg: early.largestIncrementDeg,
    sizeIntervals: sizeTable(overBoth(early.intervals, late.intervals)),
    merged: judged ? early.merged : null,
    reversed: judged ? early.reversed : null,
    missing: judged ? early.missing : null,
    distinctPerFullStep: judged ? early.distinctPerFullStep : null,
    effectiveMicrosteps: { ...first, low: Math.min(first.low, last.low, ...otherCounts), high: Math.max(first.high, last.high, ...otherCounts) },
    gapEffectiveMicrosteps: gapEffective?.value ?? null,
    gapEffectiveInterval: gapEffective && [...gapEffective.interval],
    harmonics: [...early.harmonics],
    jumpsLast: open ? { positionErrorPeakDeg: late.size.peakDeg, positionErrorPeakToPeakDeg: late.size.peakToPeakDeg, positionErrorRmsDeg: late.size.rmsDeg, effectiveMicrosteps: last.value } : null,
  }
}

const folded = ({ period, meanDeg, spreadDeg }: Folded): Result['repeatPattern']['periods'][number] => ({ commands: period, meanDeg: [...meanDeg], spreadDeg: [...spreadDeg] })

const patternOf = ({ oneFullStep, twoFullSteps, electricalCycle, alternate }: RepeatPattern): Result['repeatPattern'] => ({
  periods: [oneFullStep, twoFullSteps, electricalCycle].map(folded),
  alternateFullSteps: alternate && { ...alternate },
})

const rigFaultsOf = ({ straight: { faults, lengths }, figures: { before } }: Measured): Result['rigFaults'] => ({
  removed: [...faults.removed],
  lengths: lengths.map((length) => ({ ...length })),
  before:
    faults.removed.length === 0 && lengths.length === 0
      ? null
      : { positionErrorPeakToPeakDeg: before.size.peakToPeakDeg, positionErrorRmsDeg: before.size.rmsDeg, effectiveMicrosteps: before.effectiveMicrosteps.value },
})

const uncertaintyOf = ({ straight: { contributions, known } }: Measured): Result['uncertainty'] => {
  const resolvable = resolvablePerFullStep(360 / known.stepsPerRev, rms(known.uDeg))
  const ofMarks = contributions.filter(({ kind }) => kind === 'mark')
  const degreesOfFreedom = effectiveDegreesOfFreedom(ofMarks)
  return {
    markDeg: combined(ofMarks),
    commonDeg: combined(contributions.filter(({ kind }) => kind === 'common')),
    coverageFactor: coverageFactorFor(degreesOfFreedom),
    incrementScale: known.incrementScaleU,
    coverageProbability,
    degreesOfFreedom,
    resolvablePerFullStep: Number.isFinite(resolvable) ? resolvable : null,
    contributions: [...contributions],
  }
}

const assignmentOf = ({ passes, run: { assignment, ordered } }: Measured): Result['assignment'] => ({
  decidedBy: assignment.decidedBy,
  commands: assignment.commands,
  marks: ordered.marks.length,
  closed: assignment.closed,
  ambiguous: assignment.ambiguous,
  jumpsUnknown: passes.main.jumpsUnknown,
  margin: assignment.margin,
  logOdds: [...assignment.logOdds],
  doubts: [...assignment.doubts],
  labelsToSettle: [...assignment.labelsToSettle],
})

const motorFitOf = ({ motorFit }: Explanation): Result['motorFit'] =>
  motorFit && { ...motorFit, finding: { ...motorFit.finding }, notTold: motorFit.notTold.map((each) => ({ ...each })), models: motorFit.models.map((each) => ({ ...each })) }

const correctionOf = ({ correction }: Explanation): Result['correction'] =>
  correction.kind === 'withheld' ? { withheld: correction.reason } : { ...correction, withheld: null, rows: correction.rows.map((row) => ({ ...row })) }

/** What was measured → the result document; input and detection are filled in by whoever read them. */
export const resultOf = (measured: Measured, { seed, intervals, limits }: ResultSettings): Result => {
  const { trace, decision, why, warnings } = measured
  const uncertainty = uncertaintyOf(measured)
  const judged = !finerThanMarks(trace.motor, uncertainty.markDeg)
  return {
    schema: 'stepwitness/result@1',
    motor: { ...trace.motor },
    input: { kind: 'typed', sha256: null, name: null },
    settings: { rig: trace.rig.kind, seed, intervals, incrementLimits: { ...limits }, fullStepCommand: { command: decision.phase.command, decidedBy: decision.phase.decidedBy } },
    detection: null,
    assignment: assignmentOf(measured),
    rests: restRows(measured, judged),
    figures: figureTable(measured, judged),
    repeatPattern: patternOf(measured.figures.early.pattern),
    rigFaults: rigFaultsOf(measured),
    modes: decision.modes.map((mode) => ({ ...mode, worstIncrement: mode.worstIncrement && [mode.worstIncrement[0], mode.worstIncrement[1]] })),
    recommendation: { ...decision.recommendation },
    motorFit: motorFitOf(why),
    predictions: why.predictions.map(({ microsteps, effectiveMicrosteps }) => ({ microsteps, effectiveMicrosteps: { ...effectiveMicrosteps } })),
    correction: correctionOf(why),
    passes: passTable(measured.passes),
    directions: directionsTable(measured.passes),
    uncertainty,
    warnings: [...warnings],
  }
}
