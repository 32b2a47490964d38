import { onOnePaper } from '#core/assign/paper-frame'
import { mainRun, runsOf } from '#core/assign/runs'
import { decide } from '#core/decide/decide'
import { type IncrementLimits, usualLimits } from '#core/decide/mode-increments'
import { waysToRead } from '#core/decide/ways-to-read'
import { figuresOfRun } from '#core/figures/figures-of-run'
import { passesOf } from '#core/figures/passes'
import { straighten } from '#core/figures/straighten'
import type { Trace } from '#core/ingest/trace'
import { explain, notSought } from '#core/motor/explain'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { resultOf } from '#core/report/result'
import type { Result } from '#core/report/result-schema'
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

/** The whole flow. A photo joins it at the top: `trace-from-detection.ts` makes a trace of the marks that `detect.ts` found. */
export const measure = (trace: Trace, options: MeasureOptions = {}): Result | Unmeasurable => {
  const { seed = 1, intervals = 'sampled', limits = usualLimits, cause = true } = options

  // Marks → angles of the shaft, with the uncertainty that the rig puts into all of them.
  const located = locate(trace)
  if (isUnmeasurable(located)) return located

  // Angles → which commands ended at which mark, run by run.
  const runs = runsOf(trace, located)
  if (isUnmeasurable(runs)) return runs
  const run = mainRun(runs)

  // Runs laid on one paper → their mean, repeatability, reversal and drift.
  const framed = onOnePaper(runs, run, located.turnDeg)
  const passes = passesOf(framed, trace.motor, located.readingUDeg)

  // The mean with what the rig did taken off, and how well each rest is known.
  const found = { trace, located, run, passes }
  const straight = straighten(found)

  // Errors, increments, harmonics, effective microsteps.
  const figures = figuresOfRun(straight)

  // A verdict per step mode that stands by every way the marks can be read, and the mode to trust.
  const ways = waysToRead(found, straight)
  const decision = decide(found, straight, { ways, limits })

  // Why the motor does so, what it would do in other modes, and what would even it out.
  const why = cause ? explain({ runs: framed, straight, jumpsUnknown: passes.main.jumpsUnknown, seed, intervals, measured: figures.early.effectiveMicrosteps }) : notSought

  const ofRuns = runs.flatMap(({ ordered, assignment }) => [...ordered.warnings, ...assignment.warnings])
  const warnings = [...trace.warnings, ...located.warnings, ...ofRuns, ...passes.warnings, ...straight.warnings, ...decision.warnings, ...why.warnings]
  return resultOf({ trace, run, passes, straight, figures, ways, decision, why, warnings }, { seed, intervals, limits })
}
