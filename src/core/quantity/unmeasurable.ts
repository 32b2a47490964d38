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
  /** Keys of the set-up that cure it, where `remedy` only says how to write them into a trace or command: a front end with fields names its fields. */
  readonly setUpKeys?: readonly string[]
}

export const unmeasurable = (what: string, where: string, remedy: string): Unmeasurable => ({
  kind: 'unmeasurable',
  what,
  where,
  remedy,
})

/** A set-up that lacks something. @param forms what to write for each key: { radius: '… mm' }; @param orElse another way out than these */
export const lacking = (what: string, forms: Readonly<Record<string, string>>, orElse?: string): Unmeasurable => ({
  ...unmeasurable(what, 'the set-up', Object.entries(forms).map(([key, form]) => `add "# ${key}: ${form}" to the trace or --${key} to the command`).join(' and ') + (orElse === undefined ? '' : `, or ${orElse}`)),
  setUpKeys: Object.keys(forms),
})

export const isUnmeasurable = (value: unknown): value is Unmeasurable =>
  typeof value === 'object' && value !== null && (value as { kind?: unknown }).kind === 'unmeasurable'

/** One clear sentence: what, where, what to do; what it repeats from outside stands as text. */
export const sentenceOf = ({ what, where, remedy }: Unmeasurable): string => oneLine(`${where}: ${what}; ${remedy}.`)
