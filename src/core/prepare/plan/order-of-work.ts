import type { PlanSetup } from './plan-setup.ts'

const rigSteps = ({ rig }: PlanSetup): readonly string[] =>
  rig.kind === 'pointer'
    ? [
        'Tape the blunted pointer to the shaft, stiff, close to the paper but not touching it.',
        'Fix the paper flat under it with the shaft through its middle; mark the centre.',
      ]
    : [
        'Fix the mirror to the shaft, its face along the shaft; put matt paper on the wall.',
        'Measure the distance from mirror to wall and mark the foot of the perpendicular.',
        'Switch the light on only when the mirror is fixed; see where the beam and its reflections end.',
      ]

/** The test as a checklist, first to last. */
export const orderOfWork = (setup: PlanSetup): readonly string[] => {
  const commands = setup.fullSteps * setup.microsteps
  return [
    'With everything switched off, fix the motor down and wire it; check the wiring before switching on.',
    ...rigSteps(setup),
    'Set the driver to the current it will have in the machine; let the motor warm for five minutes.',
    'Step at least four full steps in the direction of travel, so that friction is taken up, and stop on a full step.',
    `Make the start mark, then give ${commands} commands, one at a time, with a mark at every rest; pace keeps count.`,
    ...(setup.bothWays
      ? [
          `Go at least four full steps past the end, come back the same way, and mark the ${commands} return positions in another colour.`,
        ]
      : []),
    ...(setup.passes > 1 ? [`Repeat for ${setup.passes} passes, each begun with the same run-up.`] : []),
    'Switch the driver off before touching any wire. Write motor, steps per turn, microsteps and pointer length or wall distance on the paper.',
    'Type the marks in, or photograph the sheet straight on, and measure.',
  ]
}
