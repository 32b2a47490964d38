import type { Detection } from '#core/detect/detection'
import type { Candidate } from '#core/detect/line/candidate'
import type { Point, Raster } from '#core/detect/raster'
import { depthInside } from '#core/detect/usable'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { smoothPapers } from './smooth-paper.ts'

/** Paper on a desk of stone, wood or cloth bears no more than this share of the picture's lines. */
const FEW_LINES = 1 / 3
/** A row beside it of up to so many times as many marks is the pattern's: grain has as many lines as the desk is wide. */
const TIMES_AS_MANY = 2
/** So few strokes may aim at one place by chance, on a blank sheet beside a trace. */
const BY_CHANCE = 5
const ON_SMOOTH = 'the desk bears a pattern of its own, and the paper’s edges were not all found: only what lies on the smooth bright part of the picture was read; check the overlay, and keep all four edges of the paper in view'

/**
 * A refusal, or a row without a scale, may be for the pattern of what lies beside the paper: it gives way to at least half as many marks round
 * a shaft on something smooth, where most of the picture's lines, and of the row's marks, are beside that.
 * @param photo and every line that may be a mark in it
 * @param read what is read round a shaft within an outline, px
 */
export const ratherOnSmooth = (seen: Detection | Unmeasurable, photo: { readonly raster: Raster; readonly lines: readonly Candidate[] }, read: (outline: readonly Point[]) => Detection | Unmeasurable): Detection | Unmeasurable => {
  const row = isUnmeasurable(seen) ? null : seen
  if (row !== null && (row.rig !== 'mirror' || row.pixelsPerMm !== null)) return seen
  for (const outline of smoothPapers(photo.raster)) {
    const inside = (place: Point): boolean => depthInside(outline, place) > 0
    const beside = row === null || row.marks.filter(({ p0 }) => inside(p0)).length < row.marks.length / 2
    if (!beside || photo.lines.filter(({ middle }) => inside(middle)).length > FEW_LINES * photo.lines.length) continue
    const marks = read(outline)
    if (!isUnmeasurable(marks) && marks.marks.length > BY_CHANCE && TIMES_AS_MANY * marks.marks.length >= (row?.marks.length ?? 0)) return { ...marks, doubts: [ON_SMOOTH, ...marks.doubts] }
  }
  return seen
}
