import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { writeNumber } from '#core/quantity/write-number'
import { type Caution, cautionsFor } from '#core/prepare/cautions'
import { passSeconds } from '#core/prepare/pace/pace-setup'
import { usualRate, usualRunUp, usualSettleS } from '#core/prepare/usual-pace'
import { type EffectiveOutlook, effectiveOutlook, marksForInterval } from './effective-interval.ts'
import { type Contribution, expectedBudget, incrementU, markU } from './expected-budget.ts'
import { beamHalfAngle, type MarkSpacing, markSpacing } from './mark-spacing.ts'
import { neededLength } from './needed-length.ts'
import { orderOfWork } from './order-of-work.ts'
import { type PaperNeeded, paperNeeded } from './paper-needed.ts'
import { planWarnings } from './plan-warnings.ts'
import type { PlanSetup } from './plan-setup.ts'

/** Everything to know before the test. Angles deg at the motor's shaft. */
export interface TestPlan {
  readonly kind: 'plan'
  readonly microstepDeg: number
  readonly spacing: MarkSpacing
  readonly budget: readonly Contribution[]
  readonly markUDeg: number
  /** Expanded uncertainty of an increment, 2√2·u. */
  readonly incrementUDeg: number
  /** Positions per full step that this rig tells apart, two marks needing 2u of spacing. */
  readonly toldApart: number
  /** Finest mode it can judge, U ≤ δ/4; 1 when not even full steps, see warnings. */
  readonly finestMode: number
  /** Pointer length or wall distance for U ≤ δ/4 at N. */
  readonly neededLengthMm: number
  readonly outlook: EffectiveOutlook
  /** Marks for the wanted interval; null when none was asked. */
  readonly marksNeeded: number | null
  readonly passesNeeded: number | null
  readonly marks: number
  readonly timeS: number
  readonly paper: PaperNeeded
  readonly warnings: readonly string[]
  readonly order: readonly string[]
  readonly cautions: readonly Caution[]
}

const finestModeOf = (stepDeg: number, u: number): number => {
  const most = Math.floor(stepDeg / (4 * u))
  return most < 1 ? 1 : 2 ** Math.floor(Math.log2(most))
}

const outlookOf = (setup: PlanSetup, budget: readonly Contribution[]): Parameters<typeof effectiveOutlook>[0] => {
  const stepDeg = 360 / setup.stepsPerRev
  const marks = setup.fullSteps * setup.microsteps * setup.passes * (setup.bothWays ? 2 : 1)
  return {
    microsteps: setup.microsteps,
    stepDeg,
    uDeg: incrementU(budget) / (2 * Math.SQRT2),
    sigmaDeg: setup.expectedErrorShare * stepDeg,
    marks,
  }
}

/** One pass as `pace` steps it where nobody says otherwise. */
const pacedPass = ({ fullSteps, microsteps, bothWays, dwellS }: PlanSetup): Parameters<typeof passSeconds>[0] => ({ commands: fullSteps * microsteps, bothWays, settleS: usualSettleS, dwellS, runUp: usualRunUp * microsteps, rate: usualRate })

/**
 * The plan for a test: spacing, expected uncertainty and its budget, what the rig can tell apart, how long and how often.
 * Unmeasurable when a wall strip would have to reach 80° or more from the perpendicular.
 */
export const planTest = (setup: PlanSetup): TestPlan | Unmeasurable => {
  if (beamHalfAngle(setup) >= 80)
    return unmeasurable(
      `the beam would have to reach ${writeNumber(beamHalfAngle(setup), 3)}° to each side`,
      'wall',
      'cover fewer full steps in one strip, or use a pointer',
    )
  const budget = expectedBudget(setup)
  const stepDeg = 360 / setup.stepsPerRev
  const trace = outlookOf(setup, budget)
  const incrementUDeg = incrementU(budget)
  const marksNeeded = setup.wantedHalfWidth === null ? null : marksForInterval(trace, setup.wantedHalfWidth)
  const plan = {
    microstepDeg: stepDeg / setup.microsteps,
    spacing: markSpacing(setup),
    budget,
    markUDeg: markU(budget),
    incrementUDeg,
    toldApart: stepDeg / (2 * trace.uDeg),
    finestMode: finestModeOf(stepDeg, incrementUDeg),
    neededLengthMm: neededLength(setup),
    outlook: effectiveOutlook(trace),
    marksNeeded,
    passesNeeded: marksNeeded === null ? null : Math.ceil((marksNeeded * setup.passes) / trace.marks),
    marks: trace.marks,
    timeS: setup.passes * passSeconds(pacedPass(setup)),
    paper: paperNeeded(setup),
  }
  return {
    kind: 'plan',
    ...plan,
    warnings: planWarnings(setup, plan),
    order: orderOfWork(setup),
    cautions: cautionsFor(setup.rig.kind),
  }
}
