import { keyFigures } from '#core/report/key-figures'
import type { Result } from '#core/report/result-schema'
import { section, table } from './parts.ts'

export const sectionKeyFigures = (result: Result): string =>
  section(
    'figures',
    'Key figures',
    table({
      caption: 'Angles at the motor shaft; in brackets between what the motor’s own lies, 95 % interval from the marks and the rig. The largest of many marks is picked with its own error, so it reads large rather than small.',
      head: ['figure', 'value'],
      rows: keyFigures(result).map(({ name, text, meaning }) => [{ text: name, remark: meaning }, text]),
      numeric: [1],
    }),
  )
