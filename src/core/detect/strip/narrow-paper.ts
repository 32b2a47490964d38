import { brightOutlines, enclosingQuad, outlineAbout, polygonArea } from '#core/detect/paper/outline'
import { cutLevels, reducePhoto } from '#core/detect/paper/small-picture'
import { toFullResolution } from '#core/detect/plane'
import type { Point, Raster } from '#core/detect/raster'
import { fitLine } from '#core/numeric/fit-line'
import { pickedByChance } from '#core/detect/among-others'
import { depthInside } from '#core/detect/usable'
import { centreLineAt, endsOf } from '#core/detect/stroke/stroke-model'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Strip } from './read-strip.ts'

/** A strip is at least this many times as long as it is wide, and so long as a share of the picture's longer side. */
const NARROW = 5
const LONG = 0.35
/** Its outline is full to this share, marks and a ruler's rim taken off. */
const FULL = 0.75
/** Narrowest that is seen, as a share of the picture's longer side. */
const LEAST_WIDTH = 0.008
/** Outlines nearer than this at every corner, as a share of the longer side, are one strip's at two levels of brightness. */
const SAME = 0.02

const extentsOf = (hull: readonly Point[]): readonly [length: number, width: number] => {
  const [ux, uy] = fitLine(hull)?.direction ?? [1, 0]
  const spread = (vx: number, vy: number): number => {
    const places = hull.map(([x, y]) => x * vx + y * vy)
    return Math.max(...places) - Math.min(...places)
  }
  return [spread(ux, uy), spread(-uy, ux)]
}

/** Do the two outlines cover each other's corners to within `near`? */
const alike = (a: readonly Point[], b: readonly Point[], near: number): boolean => {
  const [pa, pb] = [a, b].map((hull) => [0, 1].map((k) => hull.map((p) => p[k] as number)).flatMap((v) => [Math.min(...v), Math.max(...v)])) as [number[], number[]]
  return pa.every((v, i) => Math.abs(v - (pb[i] as number)) < near)
}

/** The strip goes on so far at both ends, as a multiple of its length: a shadow may lie over the rest. */
const ON = 1

/** The outline's long sides, prolonged. */
const prolonged = (hull: readonly Point[]): readonly Point[] => {
  const quad = enclosingQuad(hull)
  if (quad === null) return hull
  const side = (i: number): number => Math.hypot((quad[(i + 1) % 4] as Point)[0] - (quad[i] as Point)[0], (quad[(i + 1) % 4] as Point)[1] - (quad[i] as Point)[1])
  const [a, b, c, d] = (side(0) + side(2) > side(1) + side(3) ? quad : [quad[1], quad[2], quad[3], quad[0]]) as [Point, Point, Point, Point]
  const beyond = ([x, y]: Point, [fx, fy]: Point): Point => [x + ON * (x - fx), y + ON * (y - fy)]
  return [beyond(a, b), beyond(b, a), beyond(c, d), beyond(d, c)]
}

/**
 * Long narrow bright things in the picture that may be the strip of paper marks were drawn on, largest first: on a wall with a pattern of
 * its own, only what lies on the strip can be marks.
 * @returns outlines, px of the photo, clockwise as seen
 */
export const narrowPapers = (raster: Raster): readonly (readonly Point[])[] => {
  const small = reducePhoto(raster)
  const { columns, rows, grey } = small
  const long = Math.max(columns, rows)
  const least = LONG * long * Math.max(2, LEAST_WIDTH * long)
  const found: (readonly Point[])[] = []
  for (const level of cutLevels(grey)) {
    for (const { hull, solidity } of brightOutlines(grey, [columns, rows], level, FULL * least)) {
      const [length, width] = extentsOf(hull)
      if (solidity < FULL || length < LONG * long || length < NARROW * width) continue
      if (!found.some((other) => alike(other, hull, SAME * long))) found.push(hull)
    }
  }
  const strips = found.sort((a, b) => polygonArea(b) - polygonArea(a)).map((hull) => outlineAbout(prolonged(hull)))
  return strips.flatMap((strip) => (strip === null ? [] : [strip.map((p) => toFullResolution(small, p))]))
}

type Outline = readonly Point[]

/** A row on a strip of paper beside the one that was read has at least so many marks. */
const LEAST_MARKS = 8
const BESIDE = 'the marks on a strip of paper were read; another row, perhaps the wall’s own pattern, lies beside it: check the overlay, and leave out what is no mark with --ignore'

/** Are most marks of a row within an outline, px? */
export const isOn = ({ marks }: Strip, outline: Outline): boolean =>
  marks.filter(({ fit }) => depthInside(outline, centreLineAt(fit.model, 0)) > 0).length > marks.length / 2

const isTrace = ({ marks, lines, likeRuler }: Strip): boolean =>
  marks.length >= LEAST_MARKS && !likeRuler && !pickedByChance(lines, marks.map(({ fit }) => ({ ...endsOf(fit.model), widthPx: 2 * fit.model.halfWidth })))

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
