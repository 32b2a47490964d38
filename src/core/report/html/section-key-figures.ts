import { keyFigures } from '#core/report/key-figures'
import { plainNumber } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { section, table } from './parts.ts'

export const sectionKeyFigures = (result: Result): string =>
  section(
    'figures',
    'Key figures',
    table({
      caption: `Angles at the motor shaft; ± is the expanded uncertainty U, coverage factor ${plainNumber(result.uncertainty.coverageFactor, 3)} (about 95 %), from the marks and the rig`,
      head: ['figure', 'value'],
      rows: keyFigures(result).map(({ name, text, meaning }) => [{ text: name, remark: meaning }, text]),
      numeric: [1],
    }),
  )
