import Qty from 'js-quantities'
import { type QuantityKind, quantityKinds } from './quantity-kind.ts'
import { unitSpelling } from './unit-spelling.ts'
import { writeNumber } from './write-number.ts'

/**
 * A value of one kind, given in the kind's own unit (see quantityKinds), as text in `unit` (the kind's own by default).
 * @throws RangeError when the unit does not fit the kind.
 */
export const writeQuantity = (
  value: number,
  kind: QuantityKind,
  { unit, digits = 4 }: { readonly unit?: string; readonly digits?: number } = {},
): string => {
  const row = quantityKinds[kind]
  if (unit === undefined) return `${writeNumber(value, digits)}${kind === 'angle' ? '' : ' '}${row.shown}`
  return `${writeNumber(quantityIn(value, kind, unit), digits)} ${unit}`
}

/** The number a value of one kind, given in the kind's own unit, has in another unit; RangeError when the unit does not fit. */
export const quantityIn = (value: number, kind: QuantityKind, unit: string): number => {
  try {
    return value / Qty(1, unitSpelling(unit, kind)).to(quantityKinds[kind].unit).scalar
  } catch {
    throw new RangeError(`expected a unit of ${kind} such as ${quantityKinds[kind].examples}, got ${unit}`)
  }
}
