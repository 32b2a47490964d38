import type { Command } from 'commander'
import type { QuantityKind } from '#core/quantity/quantity-kind'
import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import { wrongUsage } from './motor-options.ts'

/** An option's number in the kind's own unit, null when it was not given; wrong usage when it cannot be read or is below zero. */
export const quantityOption = (
  command: Command,
  [name, text]: readonly [string, string | undefined],
  kind: QuantityKind,
): number | null => {
  if (text === undefined) return null
  const value = readQuantity(text, kind, name)
  if (isUnmeasurable(value)) return wrongUsage(command, sentenceOf(value))
  return value < 0 ? wrongUsage(command, `${name} must not be below zero, not "${text}"`) : value
}
