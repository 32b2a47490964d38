import { toFullResolution } from '#core/detect/plane'
import type { Raster } from '#core/detect/raster'
import { type Blob, blobsOf, darkRuns, reduceBy } from './dark-areas.ts'
import type { Ellipse } from './ellipse.ts'

const leastAxisPx = 3
const greatestAspect = 2.6

/** Whether an area is as full, and its moment as large, as a ring's with more or less of its inside run together with it. */
const ringLike = ({ area, xx, yy, width, height }: Blob): boolean => {
  const fill = area / ((Math.PI / 4) * width * height)
  const [across, down] = [(4 * xx) / (width * width), (4 * yy) / (height * height)]
  return fill > 0.2 && fill < 0.95 && across > 0.2 && across < 0.5 && down > 0.2 && down < 0.5
}

const centred = ({ meanX, meanY, left, top, width, height }: Blob): boolean =>
  Math.abs(meanX - left - (width - 1) / 2) < 1 + 0.06 * width && Math.abs(meanY - top - (height - 1) / 2) < 1 + 0.06 * height

/**
 * The ellipse that an area's outline would be: its box gives the extents, its moments the slant, whatever of a
 * round inside has run together with the ring. Null for what no ring looks like.
 */
const outlineOf = (blob: Blob): Ellipse | null => {
  if (Math.min(blob.width, blob.height) < 2 * leastAxisPx || !ringLike(blob) || !centred(blob)) return null
  const [wide, high] = [blob.width ** 2 / 4, blob.height ** 2 / 4]
  const slant = (blob.xy / Math.sqrt(blob.xx * blob.yy)) * Math.sqrt(wide * high)
  const half = (wide + high) / 2
  const swing = Math.hypot((wide - high) / 2, slant)
  const [long, short] = [Math.sqrt(half + swing), Math.sqrt(Math.max(0, half - swing))]
  if (short < leastAxisPx || long > greatestAspect * short) return null
  const turn = Math.atan2(slant, (wide - high) / 2) / 2
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  return {
    centre: [blob.meanX, blob.meanY],
    axes: [long * c * c + short * s * s, (long - short) * c * s, (long - short) * c * s, long * s * s + short * c * c],
  }
}

const enlarge = ({ centre, axes }: Ellipse, factor: number): Ellipse => ({
  centre: toFullResolution({ factor }, centre),
  axes: [axes[0] * factor, axes[1] * factor, axes[2] * factor, axes[3] * factor],
})

/** Dark rings that could be reference targets, looked for in the picture reduced by `factor`; full-resolution px. */
export const ringCandidates = (raster: Raster, factor: number): readonly Ellipse[] => {
  const small = reduceBy(raster, factor)
  const half = Math.max(12, Math.round(Math.max(small.width, small.height) / 32))
  return blobsOf(darkRuns(small, half, 0.75), 20).flatMap((blob) => {
    const ring = outlineOf(blob)
    return ring ? [enlarge(ring, factor)] : []
  })
}
