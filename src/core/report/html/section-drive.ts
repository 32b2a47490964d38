import type { ModeTravel, Travel } from '#core/decide/drive/travel-of'
import { modeName } from '#core/decide/recommend'
import { writeNumber } from '#core/quantity/write-number'
import { paragraph, section, table } from './parts.ts'

const amount = (value: number | null | undefined): string => (typeof value === 'number' ? writeNumber(value) : '–')

const effective = ({ effective: count }: ModeTravel): string => (count ? `${amount(count.value)}${count.low < count.high ? ` (${amount(count.low)} to ${amount(count.high)})` : ''}` : '–')

/** One sentence: what the recommended or coarsest mode moves at the carriage. */
export const driveSentence = ({ train, unit, perFullStep }: Travel): string => `Through ${train}, one full step moves ${writeNumber(perFullStep)} ${unit}.`

/** What the measured steps mean at the carriage, mode by mode. */
export const driveSection = (travel: Travel): string => {
  const rows = travel.modes.map((mode) => [modeName(mode.microsteps), amount(mode.nominal), effective(mode), amount(mode.guaranteed), mode.verdict ?? '–'])
  const { unit } = travel
  return section(
    'drive-train',
    'At the carriage',
    paragraph(driveSentence(travel)) +
      table({ caption: 'Resolution at the carriage by step mode', head: ['step mode', `nominal, ${unit}`, `effective, ${unit}`, `guaranteed, ${unit}`, 'verdict'], rows, numeric: [1, 2, 3] }),
  )
}
