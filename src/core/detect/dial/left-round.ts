import { photoPlace, workspace } from '#core/detect/kernels/workspace'
import { median } from '#core/numeric/median'
import { bearing, type PlaneMap, toPhoto, toPlane, turned } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { INK_BYTES, writeInks } from '#core/detect/stroke/stroke-ink'
import { strokeBetween, type StrokeModel } from '#core/detect/stroke/stroke-model'

/** Where and how to look round the ring of marks once more. Plane units and rad; width in px of the photo. */
export interface Ring {
  readonly centre: Point
  readonly inner: number
  readonly outer: number
  readonly halfWidthPx: number
  readonly sigmaPx: number
  readonly amplitude: number
  /** Bearings between which marks may lie: from, and how far counter-clockwise. */
  readonly from: number
  readonly span: number
  /** The heights that the longest marks reach over, where that is more than is looked at. */
  readonly longest?: readonly [inner: number, outer: number]
}

/** The photo and its way to the plane. */
export interface View {
  readonly raster: Raster
  readonly map: PlaneMap
}

const CHUNKS = 4
const TURN = 2 * Math.PI

/** Way from the ring's inside to its outside at one bearing: px of the photo, as a parabola through its ends and its middle, first x, then y. */
const rayAt = (map: PlaneMap, ring: Ring, angle: number): number[] => {
  const place = (share: number): Point => {
    const r = ring.inner + share * (ring.outer - ring.inner)
    return toPhoto(map, [ring.centre[0] + r * Math.cos(angle), ring.centre[1] - r * Math.sin(angle)])
  }
  const [a, b, c] = [place(0), place(0.5), place(1)]
  return ([0, 1] as const).flatMap((k) => [a[k], 4 * b[k] - 3 * a[k] - c[k], 2 * (a[k] + c[k] - 2 * b[k])])
}

/** A known stroke and its bearing from where the ring begins. */
interface Known {
  readonly model: StrokeModel
  readonly angle: number
}

/** Known strokes in order; those within `reach` of a whole turn also a turn back or on. */
const inOrder = (known: readonly StrokeModel[], map: PlaneMap, { centre, from }: Ring, reach: number): readonly Known[] =>
  known
    .flatMap((model): Known[] => {
      const angle = turned(bearing(centre, toPlane(map, model.middle)) - from)
      const again = angle > TURN - reach ? [angle - TURN] : angle < reach ? [angle + TURN] : []
      return [angle, ...again].map((a) => ({ model, angle: a }))
    })
    .sort((a, b) => a.angle - b.angle)

/** How a ring is gone round: how many bearings, places along each, and how far from a bearing a stroke's ink may reach it, rad. */
interface Pace {
  readonly count: number
  readonly places: number
  readonly reach: number
}

/** Brightness left along each bearing after the known strokes' ink is taken out, in four pieces from the inside out. */
const leftAlong = ({ raster, map }: View, ring: Ring, ordered: readonly Known[], { count, places, reach }: Pace): number[][] => {
  const photo = photoPlace(raster)
  const { program, f64, at: [ray, inks, left] } = workspace(8 * 6, INK_BYTES * ordered.length, 8 * CHUNKS)
  writeInks(f64, inks, ordered.map(({ model }) => model))
  let [first, end] = [0, 0]
  return Array.from({ length: count }, (_, i) => {
    const offset = (i / count) * ring.span
    while (first < ordered.length && (ordered[first] as Known).angle <= offset - reach) first++
    while (end < ordered.length && (ordered[end] as Known).angle < offset + reach) end++
    f64.set(rayAt(map, ring, ring.from + offset), ray / 8)
    program.leftAlong(photo, raster.width, raster.height, ray, inks + first * INK_BYTES, end - first, places, CHUNKS, left)
    return Array.from(f64.subarray(left / 8, left / 8 + CHUNKS))
  })
}

/** Value that three fifths of the values within `half` places do not exceed, judged by at most some 25 of them. */
const runningLevel = (values: readonly number[], half: number): Float64Array => {
  const every = Math.max(1, Math.floor(half / 12))
  const { program, f64, at: [from, window, into] } = workspace(8 * values.length, 8 * (2 * Math.ceil(half / every) + 1), 8 * values.length)
  f64.set(values, from / 8)
  program.runningLevels(from, values.length, half, every, window, into)
  return f64.slice(into / 8, into / 8 + values.length)
}

/** Ink takes a share of the light, so in a shadow it darkens less: by so many times at most is that made up for. */
const MOST_SHADE = 2
/** Shadows are wide beside strokes and the groups they stand in: so many times the reach over which the paper is judged. */
const SHADOW = 3

/** Each piece's darkness against the paper beside it, as it would be on paper of the usual brightness. */
const darknessOf = (pieces: readonly (readonly number[])[], half: number): number[][] => {
  const paper = Array.from({ length: CHUNKS }, (_, c) => runningLevel(pieces.map((p) => p[c] as number), half))
  const light = runningLevel(pieces.map((_, i) => Math.max(...paper.map((levels) => levels[i] as number))), SHADOW * half)
  const usual = median(light)
  return pieces.map((p, i) => {
    const lit = Math.max(1, Math.min(MOST_SHADE, usual / Math.max(1, light[i] as number)))
    return p.map((value, c) => ((paper[c]?.[i] as number) - value) * lit)
  })
}

/** The usual mark at a bearing of the ring. */
export const modelAt = (map: PlaneMap, ring: Ring, angle: number): StrokeModel => {
  const place = (r: number): Point => toPhoto(map, [ring.centre[0] + r * Math.cos(angle), ring.centre[1] - r * Math.sin(angle)])
  return strokeBetween(place(ring.inner), place(ring.outer), { halfWidth: ring.halfWidthPx, sigma: ring.sigmaPx, amplitudes: [ring.amplitude, ring.amplitude] })
}

/** What is left round a ring when the known marks' ink is taken out. */
export interface Left extends View {
  readonly ring: Ring
  /** From one bearing to the next, px. */
  readonly step: number
  /** For each bearing the darkness of four pieces, from the inside out. */
  readonly dark: readonly (readonly number[])[]
  /** And the brightness of its whole length. */
  readonly light: readonly number[]
  /** And how far it is from the middle line of the nearest known mark, in half widths with their blur; infinite where there is none. */
  readonly clearance: readonly number[]
}

/** For each of so many bearings, how far it is from the nearest known stroke, in units of so many rad. */
const clearances = (ordered: readonly Known[], { span }: Ring, count: number, unit: number): number[] => {
  let next = 0
  return Array.from({ length: count }, (_, i) => {
    const offset = (i / count) * span
    while (next < ordered.length && (ordered[next] as Known).angle <= offset) next++
    const [before, after] = [ordered[next - 1], ordered[next]]
    return Math.min(before ? offset - before.angle : Infinity, after ? after.angle - offset : Infinity) / unit
  })
}

/** Goes round the ring of marks once more. */
export const leftRound = (view: View, ring: Ring, known: readonly StrokeModel[]): Left => {
  const { raster, map } = view
  const middle = (ring.inner + ring.outer) / 2
  const sample = modelAt(map, ring, ring.from + ring.span / 2)
  const pxPerUnit = (2 * sample.halfLength) / (ring.outer - ring.inner)
  const step = Math.max(0.6, 0.35 * (ring.halfWidthPx + ring.sigmaPx))
  const count = Math.ceil((ring.span * middle * pxPerUnit) / step)
  const places = CHUNKS * Math.max(2, Math.min(20, Math.round((2 * sample.halfLength) / CHUNKS / 1.5)))
  const reach = 0.02 + (6 * ring.halfWidthPx) / (middle * pxPerUnit)
  const ordered = inOrder(known, map, ring, reach)
  const pieces = leftAlong(view, ring, ordered, { count, places, reach })
  const half = Math.max(6, Math.round((6 * ring.halfWidthPx + 6 * ring.sigmaPx) / step))
  const unit = (ring.halfWidthPx + ring.sigmaPx) / (middle * pxPerUnit)
  const light = pieces.map((p) => p.reduce((sum, v) => sum + v, 0) / CHUNKS)
  return { raster, map, ring, step, dark: darknessOf(pieces, half), light, clearance: clearances(ordered, ring, count, unit) }
}
