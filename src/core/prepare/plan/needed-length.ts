import { expectedBudget, incrementU } from './expected-budget.ts'
import { microstepDeg, type PlanSetup } from './plan-setup.ts'

/**
 * Pointer length or wall distance, mm, for which the expanded uncertainty of an increment falls to a quarter of a microstep
 * (U ≤ δ/4): what counts mark by mark falls with 1/length, so one division gives it. Wall: at the foot of the perpendicular,
 * where a millimetre is worth most angle.
 */
export const neededLength = (setup: PlanSetup): number => {
  const near: PlanSetup = { ...setup, fullSteps: 0 }
  const length = setup.rig.kind === 'pointer' ? setup.rig.lengthMm : setup.rig.distanceMm
  const delta = microstepDeg(setup) * setup.gearRatio
  return (length * incrementU(expectedBudget(near))) / (delta / 4)
}
