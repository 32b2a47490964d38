import { toFullResolution } from '#core/detect/plane'
import type { Point, Raster } from '#core/detect/raster'
import { brightOutlines, type Outline } from './outline.ts'
import { reducePhoto, type SmallPicture } from './small-picture.ts'
import { quantile } from '#core/numeric/median'
import type { Detection } from '#core/detect/detection'
import { BY_CHANCE } from '#core/detect/dial/vote-centre'
import { SURE } from '#core/detect/dial/sureness'
import type { Candidate } from '#core/detect/line/candidate'
import { depthInside } from '#core/detect/usable'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'

/** A sheet on something rough covers so much of the picture, and its outline is full to this share, marks taken off. */
const LEAST_AREA = 0.06
const FULL = 0.75
/** Paper in shade is no darker than this share of what a tenth of the picture exceeds. */
const SHADED = 1 / 3
/** How rough paper may be, as multiples of what the smoothest tenth of the bright blocks are; the smoothest first. */
const LEVELS = [1.6, 2.5, 4]
/** Or how bright, as shares of the picture's range of grey, where it is brighter all over than what it lies on; its outline is full to this share then. */
const BRIGHT = [0.5, 0.65, 0.35]
const FULL_BRIGHT = 0.85
/** Added to grey, so that a grey or two in the dark is not rough. */
const TOE = 12

/** Mean change of ln grey over a third of a block, for each block of the reduced picture. */
const roughness = ({ width, grey }: Raster, { columns, rows, factor }: SmallPicture): Float32Array => {
  const apart = Math.max(1, Math.floor(factor / 3))
  const skip = Math.max(1, factor >> 2)
  const ln = Float32Array.from({ length: 256 }, (_, g) => Math.log(g + TOE))
  return Float32Array.from({ length: columns * rows }, (_, block) => {
    const [column, row] = [Math.min(block % columns, columns - 2), Math.min(Math.floor(block / columns), rows - 2)]
    let [sum, count] = [0, 0]
    for (let j = 0; j < factor; j += skip)
      for (let i = 0; i < factor; i += skip) {
        const at = (row * factor + j) * width + column * factor + i
        const here = ln[grey[at] as number] as number
        sum += Math.abs((ln[grey[at + apart] as number] as number) - here) + Math.abs((ln[grey[at + apart * width] as number] as number) - here)
        count++
      }
    return sum / count
  })
}

/** Means over each block and its eight neighbours. */
const spread = (values: Float32Array, columns: number): Float32Array => {
  const around = [-columns - 1, -columns, -columns + 1, -1, 0, 1, columns - 1, columns, columns + 1]
  return values.map((_, at) => {
    const near = around.flatMap((d) => values[at + d] ?? [])
    return near.reduce((sum, v) => sum + v, 0) / near.length
  })
}

/**
 * Large smooth bright things in the picture, as paper of any shape is on a desk of stone, wood or cloth: only their outlines, the smoothest first,
 * then what is bright all over.
 * @returns outlines, px of the photo, clockwise as seen
 */
export const smoothPapers = (raster: Raster): readonly (readonly Point[])[] => {
  const small = reducePhoto(raster)
  const { columns, rows, grey } = small
  const least = SHADED * quantile(grey, 0.9)
  const rough = spread(roughness(raster, small), columns)
  const usual = quantile(rough.filter((_, i) => (grey[i] as number) > least), 0.1)
  const smooth = rough.map((r, i) => ((grey[i] as number) > least ? -r : Number.NEGATIVE_INFINITY))
  const [darkest, brightest] = [quantile(grey, 0.01), quantile(grey, 0.99)]
  const above = (values: Float32Array, level: number, full: number): Outline[] =>
    brightOutlines(values, [columns, rows], level, LEAST_AREA * grey.length).filter(({ solidity }) => solidity >= full).sort((a, b) => b.area - a.area)
  const outlines = [...LEVELS.flatMap((level) => above(smooth, -level * usual, FULL)), ...BRIGHT.flatMap((share) => above(grey, darkest + share * (brightest - darkest), FULL_BRIGHT))]
  return outlines.map(({ hull }) => hull.map((p) => toFullResolution(small, p)))
}

/** Paper on a desk of stone, wood or cloth bears no more than this share of the picture's lines. */
const FEW_LINES = 1 / 3
/** A row beside it of up to so many times as many marks is the pattern's: grain has as many lines as the desk is wide. */
const TIMES_AS_MANY = 2
const ON_SMOOTH = 'the desk bears a pattern of its own, and the paper’s edges were not all found: only what lies on the smooth bright part of the picture was read; check the overlay, and keep all four edges of the paper in view'

/** So few doubtful marks may lie anywhere, and this share of the others lies on the paper, of them off it. */
const FEW_DOUBTFUL = 3
const APART = 0.8

/** Marks round a shaft of which the doubtful ones lie beside something smooth that bears the others are read on that alone. */
const withoutDesk = (seen: Detection, raster: Raster, read: (outline: readonly Point[]) => Detection | Unmeasurable): Detection => {
  const [sure, doubtful] = [seen.marks.filter((m) => m.confidence >= SURE), seen.marks.filter((m) => m.confidence < SURE)]
  if (doubtful.length < FEW_DOUBTFUL) return seen
  for (const outline of smoothPapers(raster)) {
    const shareOn = (marks: Detection['marks']): number => marks.filter(({ p0, p1 }) => Math.min(depthInside(outline, p0), depthInside(outline, p1)) > 0).length / marks.length
    if (shareOn(sure) < APART || shareOn(doubtful) > 1 - APART) continue
    const marks = read(outline)
    if (!isUnmeasurable(marks) && marks.marks.length >= APART * sure.length) return { ...marks, doubts: [ON_SMOOTH, ...marks.doubts] }
  }
  return seen
}

/**
 * A refusal, or a row without a scale, may be for the pattern of what lies beside the paper: it gives way to at least half as many marks round
 * a shaft on something smooth, where most of the picture's lines, and of the row's marks, are beside that.
 * @param photo and every line that may be a mark in it
 * @param read what is read round a shaft within an outline, px
 */
export const ratherOnSmooth = (seen: Detection | Unmeasurable, photo: { readonly raster: Raster; readonly lines: readonly Candidate[] }, read: (outline: readonly Point[]) => Detection | Unmeasurable): Detection | Unmeasurable => {
  const row = isUnmeasurable(seen) ? null : seen
  if (row?.rig === 'pointer') return withoutDesk(row, photo.raster, read)
  if (row !== null && row.pixelsPerMm !== null) return seen
  for (const outline of smoothPapers(photo.raster)) {
    const inside = (place: Point): boolean => depthInside(outline, place) > 0
    const beside = row === null || row.marks.filter(({ p0 }) => inside(p0)).length < row.marks.length / 2
    if (!beside || photo.lines.filter(({ middle }) => inside(middle)).length > FEW_LINES * photo.lines.length) continue
    const marks = read(outline)
    if (!isUnmeasurable(marks) && marks.marks.length > BY_CHANCE && TIMES_AS_MANY * marks.marks.length >= (row?.marks.length ?? 0)) return { ...marks, doubts: [ON_SMOOTH, ...marks.doubts] }
  }
  return seen
}
