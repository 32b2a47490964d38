import { type Run, runsOf } from '#core/assign/runs'
import { fullStepPhase } from '#core/decide/full-step-phase'
import { judgeMode, modesOf, resolvablePerFullStep, usualLimits, type IncrementLimits } from '#core/decide/mode-verdict'
import { recommend } from '#core/decide/recommend'
import { figuresOf } from '#core/figures/figures'
import { positionErrors } from '#core/figures/position-errors'
import { rigFaults } from '#core/figures/rig-faults'
import { settleMarks } from '#core/figures/settle-uncertainty'
import type { Trace } from '#core/ingest/trace'
import { rms } from '#core/numeric/moments'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { resultOf } from '#core/report/result'
import type { Result } from '#core/report/result-schema'
import { combined } from '#core/rig/budget'
import { locate } from '#core/rig/locate'

export interface MeasureOptions {
  /** Seed of every resampling; the same seed gives the same document. */
  readonly seed?: number
  readonly resamples?: number
  readonly limits?: IncrementLimits
}

/** Outward runs come first in every judgement; a trace of returns alone is judged on its first. */
const mainRun = (runs: readonly Run[]): Run => (runs.find((run) => run.direction === 1) ?? runs[0]) as Run

/**
 * The whole flow: marks → shaft angles → commands → rests → rig faults taken off → figures → verdict per mode →
 * recommendation → result document.
 */
export const measure = (trace: Trace, options: MeasureOptions = {}): Result | Unmeasurable => {
  const { seed = 1, resamples = 2000, limits = usualLimits } = options
  const { stepsPerRev, microsteps } = trace.motor
  const fullStepDeg = 360 / stepsPerRev

  const located = locate(trace)
  if (isUnmeasurable(located)) return located
  const runs = runsOf(trace, located)
  if (isUnmeasurable(runs)) return runs
  const run = mainRun(runs)
  const { earlyDeg, lateDeg } = run.rests

  const marks = settleMarks({ anglesDeg: earlyDeg, statedDeg: run.rests.uDeg, readingDeg: located.readingUDeg, microsteps, source: trace.ordered ? 'marking' : 'detection' })
  const faults = rigFaults(positionErrors(earlyDeg, fullStepDeg / microsteps), { stepsPerRev, microsteps, goesRound: located.turnDeg !== null })
  const contributions = [...marks.contributions, ...located.common, ...faults.contributions]

  const commonUDeg = combined(contributions.filter(({ kind }) => kind === 'common'))
  const straightened = (angles: readonly number[]): number[] => angles.map((angle, k) => angle - (faults.correctionDeg[k] ?? 0))
  const figures = (anglesDeg: readonly number[]) => figuresOf({ anglesDeg, uDeg: marks.uDeg, commonUDeg, stepsPerRev, microsteps, turnDeg: located.turnDeg })
  const anglesDeg = straightened(earlyDeg)
  const early = figures(anglesDeg)
  const late = run.rests.jumpsUnknown ? figures(straightened(lateDeg)) : early
  const before = faults.removed.length > 0 ? figures(earlyDeg) : early

  const phase = fullStepPhase(anglesDeg, microsteps, trace.fullStepCommand)
  const readings = run.rests.jumpsUnknown ? [anglesDeg, straightened(lateDeg)] : [anglesDeg]
  const modes = modesOf(microsteps).map((mode) => judgeMode({ readings, uDeg: marks.uDeg, fullStepDeg, microsteps, fullStepCommand: phase.command, limits }, mode))
  const warnings = [...trace.warnings, ...located.warnings, ...runs.flatMap(({ ordered, assignment }) => [...ordered.warnings, ...assignment.warnings]), ...marks.warnings]

  return resultOf(
    { trace, run, anglesDeg, uDeg: marks.uDeg, contributions, early, late, faults, before, phase, modes, recommendation: recommend(modes), resolvable: resolvablePerFullStep(fullStepDeg, rms(marks.uDeg)), warnings },
    { seed, resamples, limits },
  )
}
