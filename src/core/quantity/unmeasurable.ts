import { oneLine } from './one-line.ts'

/**
 * A measurement that cannot be done, as a value: what is wrong, where, and what would cure it.
 * Adapters turn it into one sentence and an exit code; nothing in core throws for bad data.
 */
export interface Unmeasurable {
  readonly kind: 'unmeasurable'
  /** What cannot be done and why, a clause without a full stop. */
  readonly what: string
  /** The line, column, file or place in the picture. */
  readonly where: string
  /** What the person can do about it, a clause without a full stop. */
  readonly remedy: string
}

export const unmeasurable = (what: string, where: string, remedy: string): Unmeasurable => ({
  kind: 'unmeasurable',
  what,
  where,
  remedy,
})

export const isUnmeasurable = (value: unknown): value is Unmeasurable =>
  typeof value === 'object' && value !== null && (value as { kind?: unknown }).kind === 'unmeasurable'

/** One clear sentence: what, where, what to do; what it repeats from outside stands as text. */
export const sentenceOf = ({ what, where, remedy }: Unmeasurable): string => oneLine(`${where}: ${what}; ${remedy}.`)
