import { plainNumber, withUnit } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

const drifts = {
  none: 'The runs stand where the others do, within their scatter.',
  trend: 'The runs move on steadily from one to the next.',
  slip: 'The runs stand in two groups: something slipped between them.',
  unsteady: 'The runs stand apart as wholes, in no order.',
} as const

const angle = (value: number | null): string => withUnit(plainNumber(value, 3), '°')

/** Repeated runs: how well they agree and where each stands; null for a single run. */
export const sectionPasses = ({ passes }: Result): string | null => {
  const { outward, back, repeatabilityDeg, degreesOfFreedom, offsets, drift, slip } = passes
  if (outward + back < 2) return null
  const said = [
    `${outward} outward and ${back} return run${outward + back === 1 ? '' : 's'}. ${drifts[drift]}`,
    ...(repeatabilityDeg === null ? [] : [`One run scatters by ${angle(repeatabilityDeg)} (standard deviation${degreesOfFreedom === null ? '' : `, ${plainNumber(degreesOfFreedom, 3)} degrees of freedom`}) about the mean of those in its direction.`]),
    ...(slip === null ? [] : [`In pass ${slip.pass} the marks step by ${angle(slip.deg)} at about command ${slip.command}.`]),
  ]
  const rows = offsets.map(({ pass, direction, offsetDeg }) => [`pass ${pass}`, direction > 0 ? 'outward' : 'return', angle(offsetDeg)])
  return section('passes', 'Repeated runs', said.map(paragraph).join('') + (rows.length > 1 ? table({ caption: 'Where each run stands as a whole, against the mean', head: ['run', 'direction', 'offset'], rows, numeric: [2] }) : ''))
}
