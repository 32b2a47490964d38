import { BY_CHANCE } from '#core/detect/dial/vote-centre'
import { tooEven } from '#core/detect/strip/even-ticks'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { covers } from './among-others.ts'
import type { Detection } from './detection.ts'
import type { Scene } from './scene.ts'

/** A row gives way to more strokes than may aim at one place by chance, and than this share of its lines where it is as even as print, or so many times as many. */
const HALF = 0.5
const MORE = 1.5
const BESIDE_PRINT = 'lines as even as print, such as a text’s or a ruler’s, were left out: check the overlay, or leave them out with --ignore'
const BESIDE_ROW = 'lines that stand in a row were left out, as more aim at one place: check the overlay, or say how the marks stand with --rig'

/**
 * A row that nobody spoke of and that has no scale may be lines of text, a comb, or what a stain or a rule left: it gives way to strokes round a
 * shaft among the other lines.
 * @param read what is read round a shaft of a scene
 */
export const ratherRound = (row: Detection | Unmeasurable, scene: Scene, read: (rest: Scene) => Detection | Unmeasurable): Detection | Unmeasurable => {
  if (isUnmeasurable(row) || scene.hints.rig !== undefined || scene.surface.sheet !== null) return row
  const asPrint = tooEven(row.marks).length > 0
  if (!asPrint && row.pixelsPerMm !== null) return row
  const seen = read({ ...scene, short: scene.short.filter((line) => !row.marks.some((mark) => covers(mark, line))) })
  const least = Math.max(BY_CHANCE, (asPrint ? HALF : MORE) * row.marks.length)
  return isUnmeasurable(seen) || seen.marks.length <= least ? row : { ...seen, doubts: [asPrint ? BESIDE_PRINT : BESIDE_ROW, ...seen.doubts] }
}
