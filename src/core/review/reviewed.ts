import type { DetectedMark, Detection } from '#core/detect/detection'
import type { PlaneMap } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { planeOf } from './plane-of.ts'

/** A mark with what a person said about it. */
export interface ReviewedMark extends DetectedMark {
  /** Stays with the mark through every edit: f… found by the tool, others by a person. */
  readonly id: string
  readonly origin: 'found' | 'moved' | 'added'
  /** A person looked at it and let it stand. */
  readonly accepted: boolean
  readonly command: number | null
  readonly tally: number | null
}

/** The photo's marks as they stand after some edits. */
export interface Reviewed {
  readonly found: Detection
  readonly plane: PlaneMap
  readonly centrePx: Point | null
  readonly cornersPx: readonly Point[] | null
  readonly centreMoved: boolean
  readonly marks: readonly ReviewedMark[]
}

/** Before the first edit: just what the tool found. */
export const asFound = (found: Detection): Reviewed => ({
  found,
  plane: planeOf(found),
  centrePx: found.centrePx,
  cornersPx: found.cornersPx,
  centreMoved: false,
  marks: found.marks.map((mark, i) => ({ ...mark, id: `f${i}`, origin: 'found', accepted: false, command: null, tally: null })),
})

/** Marks a person should look at: unsure ones that nobody has touched or accepted. */
export const isDoubtful = ({ confidence, accepted, origin }: ReviewedMark): boolean => confidence < 0.5 && !accepted && origin === 'found'
