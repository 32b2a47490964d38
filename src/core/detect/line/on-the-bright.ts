import type { Candidate } from './candidate.ts'
import type { Raster } from '#core/detect/raster'

/** Paper in a deep shadow is seen with no less than this share of the grey of paper in full light. */
const SHADED = 1 / 3
/** As in the reduced picture that candidates are measured in. */
const TOE = 12

/** Grey that a tenth of the picture exceeds. */
const brightGrey = ({ grey }: Raster): number => {
  const counts = new Uint32Array(256)
  const step = Math.max(1, Math.floor(grey.length / 200_000))
  let left = 0
  for (let i = 0; i < grey.length; i += step, left += 0.1) counts[grey[i] as number] = (counts[grey[i] as number] as number) + 1
  let level = 255
  while (level > 0 && left > 0) left -= counts[level--] as number
  return level
}

/** The candidates that have something bright on both sides, as paper is; for photos in which the paper's outline is not known. */
export const onTheBright = (raster: Raster, candidates: readonly Candidate[]): Candidate[] => {
  const least = Math.log(SHADED * brightGrey(raster) + TOE)
  return candidates.filter((c) => c.beside > least)
}
