import { keyFigures } from '#core/report/key-figures'
import type { Result } from '#core/report/result-schema'
import { section, table } from './parts.ts'

export const sectionKeyFigures = (result: Result): string =>
  section(
    'figures',
    'Key figures',
    table({
      caption: 'Angles at the motor shaft; ± is the expanded uncertainty U with coverage factor 2 (about 95 %), from the marks and the rig',
      head: ['figure', 'value'],
      rows: keyFigures(result).map(({ name, text, meaning }) => [{ text: name, remark: meaning }, text]),
      numeric: [1],
    }),
  )
