import { BY_CHANCE } from '#core/detect/dial/vote-centre'
import { tooEven } from '#core/detect/strip/even-ticks'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { covers } from './among-others.ts'
import type { Detection } from './detection.ts'
import type { Scene } from './scene.ts'

/** A row gives way to more strokes than may aim at one place by chance, and than this share of its lines. */
const HALF = 0.5
const BESIDE_PRINT = 'lines as even as print, such as a text’s or a ruler’s, were left out: check the overlay, or leave them out with --ignore'

/**
 * A row that nobody spoke of and that is as even as print may be lines of text, a ruler or a comb: it gives way to strokes round a shaft among the
 * other lines.
 * @param read what is read round a shaft of a scene
 */
export const ratherThanPrint = (row: Detection | Unmeasurable, scene: Scene, read: (rest: Scene) => Detection | Unmeasurable): Detection | Unmeasurable => {
  if (isUnmeasurable(row) || scene.hints.rig !== undefined || scene.surface.sheet !== null || tooEven(row.marks).length === 0) return row
  const seen = read({ ...scene, short: scene.short.filter((line) => !row.marks.some((mark) => covers(mark, line))) })
  return isUnmeasurable(seen) || seen.marks.length <= Math.max(BY_CHANCE, HALF * row.marks.length) ? row : { ...seen, doubts: [BESIDE_PRINT, ...seen.doubts] }
}
