import { pickedByChance } from '#core/detect/among-others'
import { depthInside } from '#core/detect/usable'
import type { Point } from '#core/detect/raster'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Strip } from './read-strip.ts'

type Outline = readonly Point[]

/** A row on a strip of paper beside the one that was read has at least so many marks. */
const LEAST_MARKS = 8
const BESIDE = 'the marks on a strip of paper were read; another row, perhaps the wall’s own pattern, lies beside it: check the overlay, and leave out what is no mark with --ignore'

/** Are most marks of a row within an outline, px? */
export const isOn = ({ marks }: Strip, outline: Outline): boolean =>
  marks.filter(({ fit }) => depthInside(outline, centreLineAt(fit.model, 0)) > 0).length > marks.length / 2

const isTrace = ({ marks, lines, likeRuler }: Strip): boolean =>
  marks.length >= LEAST_MARKS && !likeRuler && !pickedByChance(lines, marks.map(({ fit }) => ({ p0: centreLineAt(fit.model, -1), p1: centreLineAt(fit.model, 1), widthPx: 2 * fit.model.halfWidth })))

/**
 * A row that lies on no strip of paper gives way to one that does: a wall's own pattern makes rows, too.
 * @param papers long narrow bright things in the picture, px
 * @param read what is read within an outline
 */
export const ratherOnPaper = (seen: Strip | Unmeasurable, papers: readonly Outline[], read: (outline: Outline) => Strip | Unmeasurable): Strip | Unmeasurable => {
  if (!isUnmeasurable(seen) && papers.some((outline) => isOn(seen, outline))) return seen
  const readings = papers.map(read).flatMap((strip) => (!isUnmeasurable(strip) && isTrace(strip) ? [strip] : []))
  const [fullest] = readings.sort((a, b) => b.marks.length - a.marks.length)
  return fullest === undefined ? seen : { ...fullest, doubts: [BESIDE, ...fullest.doubts] }
}
