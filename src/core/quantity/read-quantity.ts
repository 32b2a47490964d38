import Qty from 'js-quantities'
import { type QuantityKind, quantityKinds } from './quantity-kind.ts'
import { thousands } from './read-number.ts'
import { unitSpelling } from './unit-spelling.ts'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from './unmeasurable.ts'

const shape =
  /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?)(?:\s*(?:±|\+-|\+\/-)\s*(\d+(?:[.,]\d*)?|[.,]\d+))?\s*(.*)$/i

const notRead = (text: string, kind: QuantityKind, where: string): Unmeasurable =>
  unmeasurable(
    `"${text}" is not a ${kind} that can be read`,
    where,
    `give a number and a unit, such as ${quantityKinds[kind].examples}`,
  )

const factorOf = (typed: string, kind: QuantityKind): number | null => {
  try {
    return Qty(1, unitSpelling(typed, kind)).to(quantityKinds[kind].unit).scalar
  } catch {
    return null
  }
}

const numberOf = (digits: string): number => Number(digits.replace(',', '.'))

/**
 * Number, optional ± standard uncertainty and unit as a person types them ("41.78 mm", "2,5 N·cm", "1520 ± 3 mm"),
 * both in the kind's own unit (see quantityKinds); a bare number is taken in that unit, u is 0 when not stated.
 * Unit factors are the units library's. A comma is a decimal comma; "3,264", which could be either, is refused.
 */
export const readStated = (
  text: string,
  kind: QuantityKind,
  where: string,
): { readonly value: number; readonly u: number } | Unmeasurable => {
  const [, digits = '', spread = '0', unit = ''] = shape.exec(text.trim()) ?? []
  if (digits === '') return notRead(text, kind, where)
  if (thousands.test(digits))
    return unmeasurable(
      `"${text}" could mean thousands or a decimal comma`,
      where,
      'write it with a decimal point or without the comma',
    )
  const factor = unit.trim() === '' ? 1 : factorOf(unit, kind)
  const value = numberOf(digits)
  if (factor === null || !Number.isFinite(value)) return notRead(text, kind, where)
  return { value: value * factor, u: numberOf(spread) * factor }
}

/** As readStated, for a plain number without an uncertainty. */
export const readQuantity = (text: string, kind: QuantityKind, where: string): number | Unmeasurable => {
  const stated = readStated(text, kind, where)
  return isUnmeasurable(stated) ? stated : stated.value
}
