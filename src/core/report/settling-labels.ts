import type { Result } from './result-schema.ts'

type Kind = Result['input']['kind']

/** Marks by their lines of the file, or by their numbers in a photo. */
export const marksAt = (lines: readonly number[], kind: Kind): string => {
  const [last, ...others] = lines.toReversed()
  const named = others.length === 0 ? `${last}` : `${others.toReversed().join(', ')} and ${last}`
  return kind === 'photo' ? `mark${others.length === 0 ? '' : 's'} ${named}` : others.length === 0 ? `the mark on line ${named}` : `the marks on lines ${named}`
}

/** The shortest list of marks that, numbered by hand, settles which command belongs to which mark; one sentence. */
export const settlingLabels = ({ doubts, labelsToSettle }: Pick<Result['assignment'], 'doubts' | 'labelsToSettle'>, kind: Kind): string => {
  if (labelsToSettle.length === 0) return 'Number the marks in a command column to settle it.'
  const rest = doubts.length > labelsToSettle.length ? ` The other ${doubts.length - labelsToSettle.length} in doubt then follow.` : ''
  return `Number ${marksAt(labelsToSettle, kind)} in a command column to settle it.${rest}`
}
