import { type FittedMark, fittedMark } from '#core/detect/centre/seen-from-centre'
import { likenessOf, multiplicityOf } from '#core/detect/dial/judge-marks'
import type { PlaneMap } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { usualBeside } from '#core/detect/stroke/pulled-aside'
import { seenWidth } from '#core/detect/stroke/stroke-model'
import { farBelow } from './overlooked.ts'
import type { StripMark } from './strip-marks.ts'

/** Rest positions that each stroke of a row may hold, by how wide it is and its ink, as on a dial; a dot or cross holds one. Marks in order along the row. */
export const restsHeld = (marks: readonly StripMark[], map: PlaneMap, along: Point): number[] => {
  const centre = farBelow(marks, along)
  const seen = marks.map((m) => fittedMark(m.fit, map, centre))
  const like = likenessOf(seen)
  const widths = marks.map((m) => seenWidth(m.fit.model))
  return marks.map(({ kind }, i) => (kind === 'spot' ? 1 : multiplicityOf(seen[i] as FittedMark, like, (widths[i] as number) / usualBeside(widths, i))))
}
