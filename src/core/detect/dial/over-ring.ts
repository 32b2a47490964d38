import { median } from '#core/numeric/median'
import { greyAt } from '#core/detect/grey-at'
import { toPhoto, pxPerUnitAt, turned } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { seenWidth } from '#core/detect/stroke/stroke-model'
import { BEARINGS, differences } from './pointer.ts'
import { ringOf } from './ring-of-marks.ts'
import { runsRound } from './runs-round.ts'
import type { View } from './left-round.ts'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'

const RADII = 9
/** Broader than so many strokes as they are seen, and than so many places, it is none; and no broader than this, rad, it lies on the paper, not beside it. */
const BROADER = 2.2
const PLACES = 3
const WIDEST = 0.35
/** It differs from the paper by no less than this share of what the marks do, and of the paper: they show through what is fainter, a stain. */
const SOLID = 0.35
const LEAST_SOLID = 0.12
/** A mark is hidden where this share of its length is. */
const HIDDEN = 0.5
/** Between marks nearer to each other than so many usual gaps there is no room for another. */
const ROOM = 1.3
/** Fewer marks do not tell what is usual. */
const LEAST = 8

const TURN = 2 * Math.PI
const STEP = TURN / BEARINGS

/** Bearings at one radius where something broad differs from the paper. */
const broadAt = (differs: readonly boolean[], least: number): boolean[] => {
  const broad = differs.map(() => false)
  for (const [from, to] of runsRound(differs)) if (to - from > least) for (let k = from; k < to; k++) broad[k % BEARINGS] = true
  return broad
}

/** A shadow's edge is a step to one side only: of the radii at least this share have one to both sides, of this share of what counts. */
const STEPS = 0.4
const STEP_HEIGHT = 0.7

/** Does what is seen at a bearing differ from both these, at enough of the radii? */
const standsOut = (greyOf: (bearing: number) => readonly number[], [before, middle, after]: readonly [number, number, number], least: number): boolean => {
  const inside = greyOf(middle)
  return [before, after].every((angle) => greyOf(angle).filter((g, k) => Math.abs((inside[k] as number) / g - 1) > least).length >= STEPS * inside.length)
}

/**
 * Bearings, rad, at which something broader than strokes lies over the ring where no mark was found though there is room for one: a cable, a tool.
 * @param marks fewer than eight tell of none
 */
export const overRing = ({ raster, map }: View, marks: readonly FittedMark[], centre: Point): number[] => {
  if (marks.length < LEAST) return []
  const ring = ringOf(marks, centre)
  const pxPerUnit = pxPerUnitAt(map, toPhoto(map, centre))
  const width = median(marks.map((m) => seenWidth(m.fit.model))) / pxPerUnit
  const differs = Math.max(LEAST_SOLID, SOLID * median(marks.map((m) => m.contrast)))
  const radii = Array.from({ length: RADII }, (_, k) => ring.inner + ((k + 0.5) / RADII) * (ring.outer - ring.inner))
  const broad = radii.map((r) => broadAt(differences(raster, map, centre, r).map((d) => Math.abs(d) > differs), Math.max(PLACES, (BROADER * width) / (r * STEP))))
  const covered = Array.from({ length: BEARINGS }, (_, i) => broad.filter((at) => at[i]).length >= HIDDEN * RADII)
  const places = marks.map((m) => turned(m.bearing)).sort((a, b) => a - b)
  const gaps = places.map((a, i) => turned((places[(i + 1) % places.length] as number) - a))
  const room = ROOM * median(gaps)
  const widest = Math.max(...gaps)
  const greyOf = (angle: number): number[] => radii.map((r) => greyAt(raster, toPhoto(map, [centre[0] + r * Math.cos(angle), centre[1] - r * Math.sin(angle)])))
  const found = new Map<number, number>()
  for (const [from, to] of runsRound(covered)) {
    const middle = turned(((from + to - 1) / 2) * STEP)
    const before = places.findLastIndex((p) => p <= middle)
    const at = before < 0 ? places.length - 1 : before
    const gap = gaps[at] as number
    const after = turned(middle - (places[at] as number))
    const half = ((to - from) / 2) * STEP
    // A mark that lies in it, or along its very edge, was told from it.
    const beside = half + STEP + (0.5 * width) / ring.outer
    const fits = half < WIDEST / 2 && gap > room && (gap < widest || ring.span >= TURN)
    if (fits && Math.min(after, gap - after) > beside && standsOut(greyOf, [middle - beside, middle, middle + beside], STEP_HEIGHT * differs)) found.set(at, middle)
  }
  return [...found.values()]
}
