import type { z } from 'zod'
import type { AxisFigures } from '#core/figures/iso-230'
import type { MeanRun } from '#core/figures/mean-run'
import type { Passes } from '#core/figures/passes'
import type { directionsSchema, passTableSchema } from './pass-schema.ts'

type PassTable = z.infer<typeof passTableSchema>
type DirectionsTable = z.infer<typeof directionsSchema>

const offsetsOf = (run: MeanRun | null): PassTable['offsets'] =>
  (run?.runs ?? []).map(({ pass, direction }, p) => ({ pass, direction, offsetDeg: run?.offsetsDeg[p] ?? 0 }))

const runsIn = (direction: 1 | -1, { main, opposite }: Passes): number =>
  [main, opposite].reduce((sum, each) => sum + (each?.runs[0]?.direction === direction ? each.runs.length : 0), 0)

/** Repeated runs as the document has them. */
export const passTable = (passes: Passes): PassTable => ({
  outward: runsIn(1, passes),
  back: runsIn(-1, passes),
  repeatabilityDeg: passes.main.repeatability?.uDeg ?? null,
  degreesOfFreedom: passes.main.repeatability?.degreesOfFreedom ?? null,
  offsets: [...offsetsOf(passes.main), ...offsetsOf(passes.opposite)],
  drift: passes.drift.kind,
  slip: passes.slip && { ...passes.slip },
  iso230Missing: passes.iso230Missing,
})

const isoTable = ({ spread, ...figures }: AxisFigures): DirectionsTable['iso230'] =>
  spread && {
    reversalDeg: figures.reversal,
    meanReversalDeg: figures.meanReversal,
    systematicForwardDeg: figures.systematicForward,
    systematicBackwardDeg: figures.systematicBackward,
    systematicDeg: figures.systematic,
    meanDeviationDeg: figures.meanDeviation,
    repeatabilityForwardDeg: spread.repeatabilityForward,
    repeatabilityBackwardDeg: spread.repeatabilityBackward,
    repeatabilityDeg: spread.repeatability,
    accuracyForwardDeg: spread.accuracyForward,
    accuracyBackwardDeg: spread.accuracyBackward,
    accuracyDeg: spread.accuracy,
  }

/** The two directions as the document has them; null with one. */
export const directionsTable = ({ directions }: Passes): DirectionsTable | null =>
  directions && {
    reversalDeg: directions.reversalDeg,
    reversalUDeg: directions.reversalUDeg,
    reversalMaxDeg: directions.reversalMaxDeg,
    deadBandDeg: directions.deadBandDeg,
    perCommand: directions.perCommand.map((each) => ({ ...each })),
    iso230: directions.iso230 && isoTable(directions.iso230),
  }
