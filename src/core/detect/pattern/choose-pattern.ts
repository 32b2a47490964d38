import type { Hints } from '#core/detect/detection'
import { doubtIn, type MarksSeen } from '#core/detect/bearing-doubts'
import type { Point, Raster } from '#core/detect/raster'
import { isOpen, type Surface } from '#core/detect/surface'
import { ruledSurface } from './ruled-surface.ts'
import { squaredSurface } from './squared-surface.ts'

/** Paper and squares that differ by more than this many times their doubt do not both tell the truth. */
const AT_ODDS = 3

const NOT_THAT_PAPER = 'the squares on the paper do not fit the size that its shape was taken for: the perspective was told from the squares; give the size with --paper to have it told from the paper'

/**
 * The squares' surface where the paper tells nothing of the perspective or less, or where it was taken for a size that it is not.
 * @returns null where the paper, as it was taken, is as good or was given
 */
export const chooseSquares = (raster: Raster, marks: MarksSeen, surface: Surface, hints: Hints, usable: (px: Point) => boolean): Surface | null => {
  const open = isOpen(surface)
  if (!open && (surface.by !== 'paper' || hints.paperMm !== undefined)) return null
  const squares = squaredSurface(raster, marks, surface, { usable, closely: open })
  if (squares === null || open) return squares
  const doubt = Math.hypot(doubtIn(marks, surface), doubtIn(marks, squares))
  return doubtIn(marks, { ...squares, alternatives: [surface.map] }) > AT_ODDS * doubt ? { ...squares, doubts: [NOT_THAT_PAPER] } : null
}

/** The rules' surface where the paper tells nothing of the perspective, or less. */
export const chooseRules = (raster: Raster, marks: MarksSeen, surface: Surface, usable: (px: Point) => boolean): Surface | null => {
  const rules = ruledSurface(raster, marks, surface, usable)
  return rules === null || surface.by === 'none' || doubtIn(marks, rules) < doubtIn(marks, surface) ? rules : null
}
