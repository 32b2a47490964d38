import { oneLine } from '#core/quantity/one-line'
import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { splitReadings } from './split-readings.ts'

/** A resistance measured between two wires; null when the meter showed an open circuit. */
export interface WireReading {
  readonly wires: readonly [string, string]
  readonly ohm: number | null
}

/** No motor coil has this much, Ω: above it a reading is taken as open (common practice, no source). */
const openAbove = 10_000

const readOne = (text: string, leadOhm: number, where: string): WireReading | Unmeasurable => {
  const [, a = '', b = '', value = ''] = /^(.+?)\s*(?:-|–|\bto\b)\s*(.+?)\s*[:=]\s*(.+)$/.exec(text.trim()) ?? []
  if (value === '' || a.trim() === b.trim())
    return unmeasurable(
      `"${text.trim()}" is not a reading between two wires`,
      where,
      'write it like red-blue: 5.2 ohm or red-green: open',
    )
  const wires = [oneLine(a), oneLine(b)] as const
  if (/^(?:open|inf|infinite|∞|ol|o\.l\.?)$/i.test(value.trim())) return { wires, ohm: null }
  const ohm = readQuantity(value, 'resistance', where)
  if (isUnmeasurable(ohm)) return ohm
  if (ohm < 0) return unmeasurable(`"${text.trim()}" is below zero`, where, 'type the resistance the meter showed')
  return { wires, ohm: ohm >= openAbove ? null : Math.max(0, ohm - leadOhm) }
}

/** Readings as typed, "red-blue: 5.2, red-green: open" (Ω unless another unit stands there), the meter leads' own resistance taken off. */
export const readWireReadings = (
  text: string,
  leadOhm: number,
  where: string,
): readonly WireReading[] | Unmeasurable => {
  const readings = splitReadings(text).map((reading) => readOne(reading, leadOhm, where))
  const wrong = readings.find(isUnmeasurable)
  if (wrong) return wrong
  return readings.filter((reading): reading is WireReading => !isUnmeasurable(reading))
}

/** The wires named in the readings, in the order they come. */
export const wiresOf = (readings: readonly WireReading[]): readonly string[] => [
  ...new Set(readings.flatMap(({ wires }) => wires)),
]
