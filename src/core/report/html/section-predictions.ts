import { modeName } from '#core/decide/recommend'
import { valueAndInterval } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

/** What the fitted model expects of modes that were not measured; null without predictions. */
export const sectionPredictions = ({ predictions }: Result): string | null =>
  predictions.length === 0
    ? null
    : section(
        'predictions',
        'Predictions for modes that were not measured',
        paragraph('These are predictions of the fitted model, not measurements.') +
          table({ caption: 'Predicted effective microsteps per full step, 95 % intervals', head: ['step mode', 'effective, predicted'], rows: predictions.map(({ microsteps, effectiveMicrosteps }) => [modeName(microsteps), valueAndInterval(effectiveMicrosteps)]), numeric: [1] }),
      )
