import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { describeDial } from './describe-dial.ts'
import type { Detection, Hints } from './detection.ts'
import { findCandidates } from './find-candidates.ts'
import { splitLongLines } from './long-lines.ts'
import type { Raster } from './raster.ts'
import { readDial } from './read-dial.ts'
import { findSurface } from './surface.ts'
import { usableCandidates } from './usable.ts'

/** THE MAP: photo → marks. */
export const detect = (raster: Raster, hints: Hints = {}): Detection | Unmeasurable => {
  const surface = findSurface(raster, hints)
  const { short } = splitLongLines(usableCandidates(findCandidates(raster), surface.outline, hints))
  const dial = readDial(raster, short, surface, hints)
  if (isUnmeasurable(dial)) return dial
  return describeDial(raster, dial, surface, hints)
}
