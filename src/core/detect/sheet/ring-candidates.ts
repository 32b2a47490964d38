import type { Raster } from '#core/detect/raster'
import { type Blob, blobsOf } from './blobs.ts'
import { darkRuns, reduceBy } from './dark-runs.ts'
import type { Ellipse } from './ellipse.ts'
import { targetMm } from './target-shapes.ts'

const hole = targetMm.inner / targetMm.outer

/** A ring's second moment along an axis is this part of its outer semi-axis squared. */
const momentShare = (1 + hole * hole) / 4
const areaShare = Math.PI * (1 - hole * hole)

const leastAxisPx = 4
const greatestAspect = 2.6

/** The ellipse whose ring would have this blob's moments, or null when its area or extent is not that ring's. */
const ringOf = (blob: Blob): Ellipse | null => {
  const half = (blob.xx + blob.yy) / 2
  const swing = Math.hypot((blob.xx - blob.yy) / 2, blob.xy)
  const [long, short] = [Math.sqrt((half + swing) / momentShare), Math.sqrt(Math.max(0, half - swing) / momentShare)]
  if (short < leastAxisPx || long > greatestAspect * short) return null
  const fill = blob.area / (areaShare * long * short)
  const [wide, high] = [2 * Math.sqrt(blob.xx / momentShare), 2 * Math.sqrt(blob.yy / momentShare)]
  const fits = (seen: number, due: number) => Math.abs(seen - due) < 1.6 + 0.12 * due
  if (fill < 0.55 || fill > 1.7 || !fits(blob.width, wide) || !fits(blob.height, high)) return null
  const turn = Math.atan2(blob.xy, (blob.xx - blob.yy) / 2) / 2
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  return {
    centre: [blob.meanX, blob.meanY],
    axes: [long * c * c + short * s * s, (long - short) * c * s, (long - short) * c * s, long * s * s + short * c * c],
  }
}

const enlarge = ({ centre, axes }: Ellipse, factor: number): Ellipse => ({
  centre: [centre[0] * factor + (factor - 1) / 2, centre[1] * factor + (factor - 1) / 2],
  axes: [axes[0] * factor, axes[1] * factor, axes[2] * factor, axes[3] * factor],
})

/** Dark rings that could be reference targets, looked for in the picture reduced by `factor`; full-resolution px. */
export const ringCandidates = (raster: Raster, factor: number): readonly Ellipse[] => {
  const small = reduceBy(raster, factor)
  const half = Math.max(12, Math.round(Math.max(small.width, small.height) / 32))
  return blobsOf(darkRuns(small, half, 0.75), 20).flatMap((blob) => {
    const ring = ringOf(blob)
    return ring ? [enlarge(ring, factor)] : []
  })
}
