import type { QuantityKind } from './quantity-kind.ts'
import { readQuantity } from './read-quantity.ts'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from './unmeasurable.ts'

/** As readQuantity, for what may be left out (null) and must not be below zero. */
export const readAmount = (text: string | undefined, kind: QuantityKind, where: string): number | null | Unmeasurable => {
  if (text === undefined || text.trim() === '') return null
  const value = readQuantity(text, kind, where)
  return isUnmeasurable(value) || value >= 0 ? value : unmeasurable(`"${text}" is below zero`, where, 'give zero or more')
}
