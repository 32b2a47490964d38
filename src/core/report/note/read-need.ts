import { readTrain } from '#core/decide/drive/read-train'
import { type DriveTrain, travelUnit } from '#core/decide/drive/drive-train'
import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

/** A resolution wanted on a drive train. */
export interface Need {
  readonly resolution: number
  readonly train: DriveTrain
}

/** "a 1 mm screw" → "screw 1 mm"; already "screw 1 mm" stays. */
const trainWords = (text: string): string => {
  const [, size, kind] = /^(?:an?\s+)?(.+?)\s+(screw|drum|belt|rack)$/i.exec(text.trim()) ?? []
  return size !== undefined && kind !== undefined && !/[;>]/.test(text)
    ? `${kind.toLowerCase()} ${size}`
    : text.trim().replace(/^an?\s+/i, '')
}

/** A need in words: "0.05 mm on a 1 mm screw", "needs 0.1 deg on gear 10:1 > rotary". */
export const readNeed = (text: string, where: string): Need | Unmeasurable => {
  const [, amount, drive] = /^\s*(?:needs?\s+)?(.+?)\s+on\s+(.+)$/i.exec(text) ?? []
  if (amount === undefined || drive === undefined)
    return unmeasurable(`"${text}" is not a need that can be read`, where, 'write it like "0.05 mm on a 1 mm screw"')
  const read = readTrain(trainWords(drive), where)
  if (isUnmeasurable(read)) return read
  const resolution = readQuantity(amount, travelUnit(read.train.output) === 'mm' ? 'length' : 'angle', where)
  if (isUnmeasurable(resolution)) return resolution
  return resolution > 0
    ? { resolution, train: read.train }
    : unmeasurable('the wanted resolution is not above zero', where, 'give a resolution above zero')
}
