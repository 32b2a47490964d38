import type { InputFile } from '#adapters/files/read-input'
import { detectPhoto } from '#adapters/photo/detect-photo'
import type { Detection, Hints } from '#core/detect/detection'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'

/** A photo file → its marks, a printed sheet's code read on the way. The file's name stands in the message when it cannot be done. */
export const detectInput = async ({ bytes, name }: InputFile, hints: Hints): Promise<Detection | Unmeasurable> => {
  const detection = await detectPhoto(bytes, hints)
  return isUnmeasurable(detection) ? { ...detection, where: name } : detection
}
