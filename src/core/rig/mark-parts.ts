import type { MarkPart } from '#core/ingest/trace'
import { rectangular } from './type-b.ts'

/** What each part is, said in the budget. */
const notes = {
  'line width': 'somewhere within the width of the line: its half over √3',
  parallax: 'looking aslant at the pointer, the same way all along: it moves neighbours alike',
  hand: 'as stated for the hand that draws',
} as const

/** Standard uncertainty of a part, in its own unit. */
export const sizeOfPart = ({ source, value }: MarkPart): number => (source === 'line width' ? rectangular(value / 2) : value)

/** An eye that stays where it is shifts neighbouring marks alike, so that increments do not feel it. */
export const isShared = ({ source }: MarkPart): boolean => source === 'parallax'

export const noteOfPart = ({ source, value, unit }: MarkPart): string => `${value} ${unit}, ${notes[source]}`
