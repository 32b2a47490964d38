import type { FramedRun } from '#core/assign/paper-frame'
import { cyclesIn } from '#core/assign/lost-cycles'
import type { Motor } from '#core/ingest/trace'
import { rms } from '#core/numeric/moments'
import type { Contribution } from '#core/rig/budget'
import { type Directions, directionsOf, missingForIso230 } from './directions.ts'
import { type MeanRun, meanRun } from './mean-run.ts'
import { type Drift, driftOf } from './pass-drift.ts'
import { type SlipWithin, slipWithin } from './slip-within.ts'
import { twoDigits } from '#core/quantity/write-number'

/** All runs of a trace: the mean of those in the main direction, and what the others say. */
export interface Passes {
  readonly main: MeanRun
  readonly opposite: MeanRun | null
  readonly directions: Directions | null
  readonly iso230Missing: string | null
  readonly drift: Drift
  readonly slip: SlipWithin | null
  readonly warnings: readonly string[]
}

/** A run that holds less than this share of the main run's commands is kept out of the mean. */
const enough = 0.8

const holds = (run: FramedRun, main: FramedRun): boolean => {
  const there = new Set(run.commands)
  return main.commands.filter((command) => there.has(command)).length >= enough * main.commands.length
}

const size = (deg: number): string => `${twoDigits(Math.abs(deg))}°`

/** A step between two runs of less than this share of a mark's uncertainty is not worth a word, however sure. */
const worthSaying = 0.5

const driftSentence = (drift: Drift, fullStepDeg: number, uDeg: number): string[] => {
  if (drift.kind === 'slip' && Math.abs(drift.deg) < worthSaying * uDeg) return []
  switch (drift.kind) {
    case 'none':
      return []
    case 'trend':
      return [`From run to run the marks move on by ${size(drift.degPerPass)}, steadily: something warms up or creeps (motor, glue, paper). Let it run warm before marking; what it may have moved within a run is in the uncertainty.`]
    case 'slip': {
      const cycles = cyclesIn(drift.deg / fullStepDeg)
      const lost = cycles === null ? 'the paper slipped or was put down anew' : `that is ${Math.abs(4 * cycles)} full steps, a multiple of four, so the motor lost ${Math.abs(cycles)} electrical cycle${Math.abs(cycles) === 1 ? '' : 's'} in between`
      return [`After pass ${drift.afterPass} the marks stand ${size(drift.deg)} off those before: ${lost}. The error figures are not touched by it; the reversal value is.`]
    }
    case 'unsteady':
      return [`The runs stand up to ${size(drift.widthDeg)} apart as wholes, in no order: the paper was put down anew each time, or pointer or coupling is loose.`]
  }
}

const slipSentence = (slip: SlipWithin | null): string[] =>
  slip ? [`In pass ${slip.pass} the marks step by ${size(slip.deg)} at about command ${slip.command}, which the other runs do not show: paper or pointer slipped there. Leave that pass out or repeat it.`] : []

/** What a creep from run to run may have moved within one, its rms about the mean, as a part all marks of a run share; none where there is none. */
export const creepWithin = ({ drift, opposite, main }: Passes): Contribution[] => {
  const perPass = drift.kind === 'trend' ? drift.degPerPass : drift.kind === 'slip' && main.runs.length === 2 ? drift.deg : 0
  const uDeg = Math.abs(perPass) / (opposite ? 2 : 1) / Math.sqrt(12)
  return uDeg > 0 ? [{ source: 'creep within a run', uDeg, kind: 'common', degreesOfFreedom: null, note: `${size(perPass)} from run to run, taken to come about steadily` }] : []
}

/**
 * Repeated runs and returns, all in one frame, the main run first.
 * @param framed at least the main run
 * @param readingUDeg standard uncertainty that the last digit typed leaves, deg: the least a mark can have
 */
export const passesOf = (framed: readonly FramedRun[], { stepsPerRev, microsteps }: Pick<Motor, 'stepsPerRev' | 'microsteps'>, readingUDeg = 0): Passes => {
  const fullStepDeg = 360 / stepsPerRev
  const first = framed[0] as FramedRun
  const along = framed.filter(({ direction }) => direction === first.direction)
  const usable = along.filter((run) => holds(run, first))
  const main = meanRun(usable)
  const back = framed.filter(({ direction }) => direction !== first.direction)
  const opposite = back.length > 0 ? meanRun(back) : null
  const spread = Math.max(rms(first.uDeg.map((u) => u ?? 0)), main.repeatability?.uDeg ?? 0, readingUDeg)
  const [forward, backward] = first.direction === 1 ? [main, opposite] : [opposite, main]
  const directions = forward && backward ? directionsOf(forward, backward, { microstepDeg: fullStepDeg / microsteps, uDeg: spread }) : null
  const drift = driftOf(main)
  const slip = slipWithin(main)
  const short = along.filter((run) => !usable.includes(run)).map(({ pass }) => `Pass ${pass} covers less than four fifths of the first run's commands and was left out of the mean.`)
  const apart = opposite && !directions ? ['The return shares no commanded position with the outward run, so nothing can be said about reversal.'] : []
  return {
    main,
    opposite,
    directions,
    iso230Missing: missingForIso230(forward?.runs.length ?? 0, backward?.runs.length ?? 0),
    drift,
    slip,
    warnings: [...short, ...apart, ...driftSentence(drift, fullStepDeg, spread), ...slipSentence(slip)],
  }
}
