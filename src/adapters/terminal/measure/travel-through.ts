import type { Travel } from '#core/decide/drive/travel-of'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'

/** The drive train that was named, with what the measured steps mean at its carriage; null when none was. */
export const travelThrough = async (train: string | null, result: Result): Promise<Travel | null | Unmeasurable> => {
  if (train === null) return null
  const [{ readTrain }, { travelOf }, { driveFigures }] = await Promise.all([import('#core/decide/drive/read-train'), import('#core/decide/drive/travel-of'), import('#core/report/drive-figures')])
  const read = readTrain(train, '--train')
  return isUnmeasurable(read) ? read : travelOf(read.train, result.motor, driveFigures(result))
}
