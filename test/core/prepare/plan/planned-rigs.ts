import type { PlannedRig, PlanSetup } from '#core/prepare/plan/plan-setup'

/** A pointer rig; lengths in mm. */
export const pointer = (lengthMm: number, pivotUMm = 0) => ({ kind: 'pointer', lengthMm, pivotUMm }) as const
/** A wall with nothing uncertain but the marks. */
export const wall = (distanceMm: number): Extract<PlannedRig, { kind: 'mirror' }> => ({
  kind: 'mirror',
  distanceMm,
  distanceUMm: 0,
  footUMm: 0,
  spotMm: 0,
  ratio: 2,
})

/** A 200-step motor at 1/16 over 8 full steps, marks to 0.2 mm, unless told otherwise. */
export const setup = (rig: PlannedRig, rest: Partial<PlanSetup> = {}): PlanSetup => ({
  stepsPerRev: 200,
  microsteps: 16,
  rig,
  gearRatio: 1,
  markUMm: 0.2,
  lineMm: 0.5,
  fullSteps: 8,
  passes: 1,
  bothWays: false,
  dwellS: 2,
  expectedErrorShare: 0.03,
  wantedHalfWidth: null,
  ...rest,
})
