import { plainNumber, valueAndU, withUnit } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

type Iso = NonNullable<NonNullable<Result['directions']>['iso230']>

const angle = (value: number | null): string => withUnit(plainNumber(value, 3), '°')

/** The symbols and names of ISO 230-2. */
const isoRows = (iso: Iso): readonly (readonly string[])[] => [
  ['B, reversal value', angle(iso.reversalDeg)],
  ['B̄, mean reversal value', angle(iso.meanReversalDeg)],
  ['E↑, systematic deviation forward', angle(iso.systematicForwardDeg)],
  ['E↓, systematic deviation backward', angle(iso.systematicBackwardDeg)],
  ['E, systematic deviation both ways', angle(iso.systematicDeg)],
  ['M, mean bidirectional deviation', angle(iso.meanDeviationDeg)],
  ['R↑, repeatability forward', angle(iso.repeatabilityForwardDeg)],
  ['R↓, repeatability backward', angle(iso.repeatabilityBackwardDeg)],
  ['R, repeatability both ways', angle(iso.repeatabilityDeg)],
  ['A↑, accuracy forward', angle(iso.accuracyForwardDeg)],
  ['A↓, accuracy backward', angle(iso.accuracyBackwardDeg)],
  ['A, accuracy both ways', angle(iso.accuracyDeg)],
]

/** Outward against return run; null with one direction. */
export const sectionDirections = ({ directions, passes, uncertainty }: Result): string | null => {
  if (!directions) return null
  const rows = [
    ['reversal value', withUnit(valueAndU(directions.reversalDeg, uncertainty.coverageFactor * directions.reversalUDeg), '°')],
    ['largest reversal at one command', angle(directions.reversalMaxDeg)],
    ['dead band', angle(directions.deadBandDeg)],
  ]
  const iso = directions.iso230
    ? table({ caption: 'Figures of ISO 230-2, at the motor shaft', head: ['figure', 'value'], rows: isoRows(directions.iso230), numeric: [1] })
    : paragraph(passes.iso230Missing === null ? '' : `For the figures of ISO 230-2: ${passes.iso230Missing}.`.replace(/\.\.$/, '.'))
  return section('directions', 'Two directions', table({ caption: 'Forward against backward at the same command', head: ['figure', 'value'], rows, numeric: [1] }) + iso)
}
