import { plainNumber, valueAndU } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

const meanings: Readonly<Record<number, string>> = { 1: 'a current offset in a phase', 2: 'unequal phases or stacks, or phases not at 90°', 4: 'detent torque, saturation, or a current profile that is not a sine' }

const alternateSentence = ({ repeatPattern: { alternateFullSteps } }: Result): string => {
  if (!alternateFullSteps) return 'The trace is too short to say whether alternate full steps differ.'
  const { f, p, differ } = alternateFullSteps
  return `Alternate full steps ${differ ? 'differ' : 'do not differ beyond the scatter'} (F test: F = ${plainNumber(f, 3)}, p ${p < 0.001 ? '< 0.001' : `= ${plainNumber(p, 2)}`}).`
}

/** The repeat pattern and its harmonics; a cause is named only for what is significant. */
export const sectionPattern = (result: Result): string => {
  const rows = result.figures.harmonics.map(({ order, amplitudeDeg, standardErrorDeg, significant, halfSeen }) => [
    `order ${order}`,
    `${halfSeen ? 'at least ' : ''}${valueAndU(amplitudeDeg, 2 * standardErrorDeg)}`,
    significant ? 'yes' : 'no',
    significant ? (meanings[order] ?? '') : '–',
  ])
  const harmonics = rows.length > 0 ? table({ caption: 'Harmonics of the electrical cycle', head: ['order', 'amplitude ± 2 standard errors, deg', 'significant', 'what makes such a wave'], rows, numeric: [1] }) : ''
  return section('pattern', 'Repeat pattern', paragraph(alternateSentence(result)) + harmonics)
}
