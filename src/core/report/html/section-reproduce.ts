import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

/** Everything needed to come to the same figures again. */
export const sectionReproduce = ({ input, settings, motor, schema }: Result): string =>
  section(
    'reproduce',
    'How to get the same figures again',
    paragraph('Measure marks.csv of this folder again with the settings below, or run the replay command on the folder.') +
      table({
        caption: 'Input and settings',
        head: ['setting', 'value'],
        rows: [
          ['input', `${input.name ?? 'not named'} (${input.kind})`],
          ['SHA-256 of the input', input.sha256 ?? 'not taken'],
          ['steps per turn', String(motor.stepsPerRev)],
          ['microsteps per full step', String(motor.microsteps)],
          ['rig', settings.rig],
          ['seed of every sampling', String(settings.seed)],
          ['intervals of the motor’s parameters', settings.intervals],
          ['limits of an increment, nominal 1', `${settings.incrementLimits.low} to ${settings.incrementLimits.high}`],
          ['command on a full step', `${settings.fullStepCommand.command} (${{ given: 'given', start: 'the start', fit: 'found' }[settings.fullStepCommand.decidedBy]})`],
          ['document', schema],
        ],
      }),
  )
