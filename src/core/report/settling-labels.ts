import type { Result } from './result-schema.ts'

/** The shortest list of marks that, numbered by hand, settles which command belongs to which mark; one sentence. */
export const settlingLabels = ({ doubts, labelsToSettle }: Pick<Result['assignment'], 'doubts' | 'labelsToSettle'>): string => {
  const [last, ...others] = labelsToSettle.toReversed()
  if (last === undefined) return 'Number the marks in a command column to settle it.'
  const named = others.length === 0 ? `the mark on line ${last}` : `the marks on lines ${others.toReversed().join(', ')} and ${last}`
  const rest = doubts.length > labelsToSettle.length ? ` The other ${doubts.length - labelsToSettle.length} in doubt then follow.` : ''
  return `Number ${named} in a command column to settle it.${rest}`
}
