import type { InputFile } from '#adapters/files/read-input'
import { readPhoto } from '#adapters/photo/read-photo'
import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'

/** A photo file → its marks. The file's name stands in the message when it cannot be done. */
export const detectInput = async ({ bytes, name }: InputFile, hints: Hints): Promise<Detection | Unmeasurable> => {
  const photo = await readPhoto(bytes)
  if (isUnmeasurable(photo)) return { ...photo, where: name }
  const detection = detect(photo.raster, hints)
  return isUnmeasurable(detection) ? { ...detection, where: name } : detection
}
