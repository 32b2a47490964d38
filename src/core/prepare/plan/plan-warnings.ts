import { writeNumber } from '#core/quantity/write-number'
import { durationText } from '#core/report/duration-text'
import { beamHalfAngle, type MarkSpacing } from './mark-spacing.ts'
import type { PlanSetup } from './plan-setup.ts'

interface Planned {
  readonly spacing: MarkSpacing
  readonly toldApart: number
  readonly incrementUDeg: number
  readonly microstepDeg: number
  readonly finestMode: number
  readonly timeS: number
}

const wallWarnings = (setup: PlanSetup, { spacing }: Planned): readonly string[] => {
  if (setup.rig.kind !== 'mirror') return []
  const stretch = spacing.largestMm / spacing.smallestMm - 1
  return [
    ...(stretch > 0.02
      ? [
          `on a flat wall even steps stand ${writeNumber(stretch * 100, 2)} % further apart at the ends of the strip (beam ${writeNumber(beamHalfAngle(setup), 3)}° off): measure distance and foot well, and do not judge evenness by eye`,
        ]
      : []),
    ...(setup.rig.spotMm > spacing.smallestMm
      ? [
          `the ${writeNumber(setup.rig.spotMm, 2)} mm spot is wider than the ${writeNumber(spacing.smallestMm, 2)} mm between marks: mark its edge or a shadow line in it, always the same way, or make it smaller`,
        ]
      : []),
  ]
}

const rigWarnings = (
  setup: PlanSetup,
  { toldApart, spacing, incrementUDeg, microstepDeg, finestMode }: Planned,
): readonly string[] => [
  ...(toldApart < setup.microsteps
    ? [
        `this rig tells apart about ${writeNumber(toldApart, 2)} positions per full step, fewer than the ${setup.microsteps} commanded: microsteps that look merged would describe the ruler, not the motor`,
      ]
    : []),
  ...(spacing.smallestMm < spacing.readableMm
    ? [
        `marks would stand ${writeNumber(spacing.smallestMm, 2)} mm apart and this pen needs ${writeNumber(spacing.readableMm, 2)} mm: stagger their lengths, use a finer pen or a longer ${setup.rig.kind === 'pointer' ? 'pointer' : 'distance'}`,
      ]
    : []),
  ...(incrementUDeg > microstepDeg / 4
    ? [
        `an increment is known to ± ${writeNumber(incrementUDeg, 2)}°, more than a quarter of a microstep: ${incrementUDeg > (microstepDeg * setup.microsteps) / 4 ? 'not even full steps can be judged so' : finestMode === 1 ? 'full steps can be judged so, finer modes cannot' : `modes up to 1/${finestMode} can be judged so, finer ones cannot`}`,
      ]
    : []),
]

const gearWarnings = ({ gearRatio }: PlanSetup): readonly string[] =>
  gearRatio === 1
    ? []
    : [
        'the gear’s own play and tooth errors will count as errors of the motor: load it lightly one way, or put the pointer on the motor’s shaft',
      ]

const heatWarnings = (setup: PlanSetup, { timeS }: Planned): readonly string[] =>
  timeS > 1800
    ? [
        `${durationText(timeS)} under current: check the case by touch every ten minutes${setup.passes > 1 ? ' and pause between passes' : ', or mark fewer full steps (--full-steps)'}`,
      ]
    : []

/** What would spoil the test, each as a sentence with what to do. */
export const planWarnings = (setup: PlanSetup, plan: Planned): readonly string[] => [
  ...rigWarnings(setup, plan),
  ...wallWarnings(setup, plan),
  ...gearWarnings(setup),
  ...heatWarnings(setup, plan),
]
