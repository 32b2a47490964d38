import { forgetPhoto } from '#core/detect/kernels/workspace'
import { findSheet } from '#core/detect/sheet/find-sheet'
import { type CodeReader, readPayload } from '#core/detect/sheet/read-payload'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { detect } from './detect.ts'
import type { Detection, Hints } from './detection.ts'
import type { Raster } from './raster.ts'

/** The same as detect, a printed sheet's code read first by the reader that is brought; what it says needs no options then. */
export const detectWithCode = async (photo: Raster, hints: Hints, read: CodeReader): Promise<Detection | Unmeasurable> => {
  forgetPhoto()
  const fix = findSheet(photo)
  return detect(photo, hints, { sheet: fix === null ? null : await readPayload(photo, fix, read) })
}
