import type { Point } from './raster.ts'

/** Marks about a shaft as they are known before the perspective is, px of the photo. */
export interface MarksSeen {
  readonly centrePx: Point
  /** Standard uncertainty of the centre, px. */
  readonly uCentrePx: number
  readonly strokes: readonly { readonly p0: Point; readonly p1: Point; readonly widthPx: number }[]
}

/** Middles of the strokes, px. */
export const middlesOf = ({ strokes }: MarksSeen): Point[] => strokes.map(({ p0, p1 }) => [(p0[0] + p1[0]) / 2, (p0[1] + p1[1]) / 2])
