import { plainNumber, withUnit } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { section, table } from './parts.ts'

/** Outward against return run; null with one direction. */
export const sectionDirections = ({ directions }: Result): string | null => {
  if (!directions) return null
  const angle = (value: number | null): string => withUnit(plainNumber(value, 3), '°')
  return section('directions', 'Two directions', table({ caption: 'Forward against backward at the same command', head: ['figure', 'value'], rows: [['reversal value', angle(directions.reversalDeg)], ['dead band', angle(directions.deadBandDeg)]], numeric: [1] }))
}
