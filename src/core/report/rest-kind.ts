import type { Result } from './result-schema.ts'

export type Rest = Result['rests'][number]

/** What a command did, as it is drawn and named; `unjudged` when the marks could not have shown it. */
export type RestKind = 'moved' | 'merged' | 'reversed' | 'unjudged'

export const restKinds: readonly RestKind[] = ['moved', 'merged', 'reversed', 'unjudged']

export const kindOf = ({ merged, reversed }: Rest): RestKind => (merged === null || reversed === null ? 'unjudged' : reversed ? 'reversed' : merged ? 'merged' : 'moved')

/** Commands 1 … K: the start mark made no move. */
export const movesOf = (result: Result): readonly Rest[] => result.rests.slice(1)

/** Nominal microstep δ, deg. */
export const microstepDegOf = ({ motor }: Result): number => 360 / motor.stepsPerRev / motor.microsteps

/** U of a position error of each rest, deg: its own mark and what all marks share, coverage factor applied. */
export const expandedErrorU = (result: Result, rest: Rest): number => result.uncertainty.coverageFactor * Math.hypot(rest.uDeg, result.uncertainty.commonDeg)
