import { detectWithCode } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { readCode } from './read-code.ts'
import { readPhoto } from './read-photo.ts'

/** A photo file's bytes → its marks: decoded, turned upright, a printed sheet and its code used when there is one. */
export const detectPhoto = async (bytes: Uint8Array, hints: Hints = {}): Promise<Detection | Unmeasurable> => {
  const photo = await readPhoto(bytes)
  return isUnmeasurable(photo) ? photo : detectWithCode(photo.raster, hints, readCode)
}
