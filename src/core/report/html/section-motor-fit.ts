import { valueAndInterval } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { list, paragraph, section, table } from './parts.ts'

const named = [
  ['detent2', 'detent torque, second order', 'of holding torque'],
  ['detent4', 'detent torque, fourth order', 'of holding torque'],
  ['imbalance', 'phase imbalance', 'of the phases’ mean'],
  ['offset', 'current offset', 'of phase current'],
  ['friction', 'dry friction', 'of holding torque'],
] as const

/** Sentences why a parameter cannot be told, where the fit gives any. */
const notTold = (motorFit: NonNullable<Result['motorFit']>): string[] => {
  const reasons = motorFit['notTold']
  if (!Array.isArray(reasons)) return []
  return reasons.flatMap((reason: unknown) => (typeof reason === 'object' && reason !== null && 'why' in reason && typeof reason.why === 'string' ? [reason.why] : []))
}

/** What the two-phase rest model says about the motor; null when it was not fitted. */
export const sectionMotorFit = ({ motorFit }: Result): string | null => {
  if (!motorFit) return null
  const rows = named.map(([key, name, unit]) => [name, motorFit[key] ? valueAndInterval(motorFit[key]) : 'the data cannot tell', unit])
  const { finding } = motorFit
  const reasons = notTold(motorFit)
  return section(
    'motor',
    'What the motor does',
    paragraph(finding.text.replace(/\.?$/, '.')) + table({ caption: 'Two-phase rest model fitted to the trace, 95 % intervals', head: ['quantity', 'value', 'unit'], rows, numeric: [1] }) + (reasons.length > 0 ? list(reasons) : ''),
  )
}
