import { median } from '#core/numeric/median'
import { nthSmallest } from '#core/numeric/nth-smallest'
import { bearing, type PlaneMap, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { darkeningAt, inkOf, type StrokeInk } from '#core/detect/stroke/stroke-ink'
import { inkProfile, strokeBetween, type StrokeModel } from '#core/detect/stroke/stroke-model'

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
}

/** The photo and its way to the plane. */
export interface View {
  readonly raster: Raster
  readonly map: PlaneMap
}

const CHUNKS = 4
const TURN = 2 * Math.PI

const greyAt = ({ width, height, grey }: Raster, x: number, y: number): number => {
  const cx = Math.min(Math.max(x, 0), width - 1.001)
  const cy = Math.min(Math.max(y, 0), height - 1.001)
  const ix = Math.floor(cx)
  const iy = Math.floor(cy)
  const fx = cx - ix
  const fy = cy - iy
  const at = iy * width + ix
  return ((grey[at] as number) * (1 - fx) + (grey[at + 1] as number) * fx) * (1 - fy) + ((grey[at + width] as number) * (1 - fx) + (grey[at + width + 1] as number) * fx) * fy
}

/** Way from the ring's inside to its outside at one bearing: px of the photo, as a parabola through its ends and its middle. */
const rayAt = (map: PlaneMap, ring: Ring, angle: number): readonly [x: Quadratic, y: Quadratic] => {
  const place = (share: number): Point => {
    const r = ring.inner + share * (ring.outer - ring.inner)
    return toPhoto(map, [ring.centre[0] + r * Math.cos(angle), ring.centre[1] - r * Math.sin(angle)])
  }
  const [a, b, c] = [place(0), place(0.5), place(1)]
  const through = (p: number, q: number, r: number): Quadratic => [p, 4 * q - 3 * p - r, 2 * (p + r - 2 * q)]
  return [through(a[0], b[0], c[0]), through(a[1], b[1], c[1])]
}

type Quadratic = readonly [number, number, number]

/** Brightness left along one bearing after the known strokes' ink is taken out, in four pieces from the inside out. */
const leftAlong = ({ raster, map }: View, ring: Ring, angle: number, { known, places }: { readonly known: readonly StrokeInk[]; readonly places: number }): number[] => {
  const [[x0, x1, x2], [y0, y1, y2]] = rayAt(map, ring, angle)
  const sums = new Array<number>(CHUNKS).fill(0)
  for (let k = 0; k < places; k++) {
    const share = (k + 0.5) / places
    const x = x0 + share * (x1 + share * x2)
    const y = y0 + share * (y1 + share * y2)
    let value = greyAt(raster, x, y)
    for (let j = 0; j < known.length; j++) value += darkeningAt(known[j] as StrokeInk, x, y)
    const chunk = Math.floor((k * CHUNKS) / places)
    sums[chunk] = (sums[chunk] as number) + (value * CHUNKS) / places
  }
  return sums
}

/** Value that three fifths of the values within `half` places do not exceed, judged by at most some 25 of them. */
const runningLevel = (values: readonly number[], half: number): number[] => {
  const every = Math.max(1, Math.floor(half / 12))
  const window = new Float64Array(2 * Math.ceil(half / every) + 1)
  return values.map((_, i) => {
    let count = 0
    for (let k = -half; k <= half; k += every) {
      const at = i + k
      if (at >= 0 && at < values.length) window[count++] = values[at] as number
    }
    return count === 0 ? 0 : nthSmallest(window.subarray(0, count), Math.floor(0.6 * count))
  })
}

/** Ink on two pieces that follow each other, half of the ring, counts for this much of what ink on three would: a shorter stroke, but also a scratch. */
const HALF = 0.75

/** What counts as overlooked. */
export interface Wanted {
  /** Darkness as a share of the usual mark's. */
  readonly least: number
  /** Also strokes on no more than half of the ring, when they are the darker for it? */
  readonly short: boolean
}

/** Darkness that at least three of the four pieces share, or, when short strokes are wanted and counted for less, two that follow each other. */
const shared = (dark: readonly number[], short: boolean): number => {
  const three = [...dark].sort((a, b) => a - b)[1] as number
  if (!short) return three
  const two = Math.max(...dark.slice(1).map((d, c) => Math.min(d, dark[c] as number)))
  return Math.max(three, HALF * two)
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

/** Correlation with the usual ink profile, so that 1 is a mark of the usual darkness. */
const matched = (dark: readonly number[], step: number, { halfWidthPx, sigmaPx, amplitude }: Ring): number[] => {
  const half = Math.ceil((halfWidthPx + 2 * sigmaPx) / step)
  const profile = Array.from({ length: 2 * half + 1 }, (_, k) => inkProfile((k - half) * step, halfWidthPx, sigmaPx))
  const energy = profile.reduce((sum, p) => sum + p * p, 0) * amplitude
  return dark.map((_, i) => profile.reduce((sum, p, k) => sum + p * (dark[i + k - half] ?? 0), 0) / energy)
}

const modelAt = (map: PlaneMap, ring: Ring, angle: number): StrokeModel => {
  const place = (r: number): Point => toPhoto(map, [ring.centre[0] + r * Math.cos(angle), ring.centre[1] - r * Math.sin(angle)])
  return strokeBetween(place(ring.inner), place(ring.outer), { halfWidth: ring.halfWidthPx, sigma: ring.sigmaPx, amplitudes: [ring.amplitude, ring.amplitude] })
}

/** What is left round a ring when the known marks' ink is taken out. */
export interface Left {
  readonly map: PlaneMap
  readonly ring: Ring
  /** From one bearing to the next, px. */
  readonly step: number
  /** For each bearing the darkness of four pieces, from the inside out. */
  readonly dark: readonly (readonly number[])[]
}

/** Goes round the ring of marks once more. */
export const leftRound = (view: View, ring: Ring, known: readonly StrokeModel[]): Left => {
  const { map } = view
  const middle = (ring.inner + ring.outer) / 2
  const sample = modelAt(map, ring, ring.from + ring.span / 2)
  const pxPerUnit = (2 * sample.halfLength) / (ring.outer - ring.inner)
  const step = Math.max(0.6, 0.35 * (ring.halfWidthPx + ring.sigmaPx))
  const count = Math.ceil((ring.span * middle * pxPerUnit) / step)
  const places = CHUNKS * Math.max(2, Math.min(20, Math.round((2 * sample.halfLength) / CHUNKS / 1.5)))
  const reach = 0.02 + (6 * ring.halfWidthPx) / (middle * pxPerUnit)
  const sorted = known.map((model) => ({ ink: inkOf(model), angle: (((bearing(ring.centre, toPlane(map, model.middle)) - ring.from) % TURN) + TURN) % TURN })).sort((a, b) => a.angle - b.angle)
  const angles = Float64Array.from(sorted, ({ angle }) => angle)
  const pieces: number[][] = []
  for (let i = 0; i < count; i++) {
    const offset = (i / count) * ring.span
    const near: StrokeInk[] = []
    for (let j = 0; j < angles.length; j++) {
      const away = Math.abs((angles[j] as number) - offset)
      if (away < reach || away > TURN - reach) near.push((sorted[j] as (typeof sorted)[number]).ink)
    }
    pieces.push(leftAlong(view, ring, ring.from + offset, { known: near, places }))
  }
  const half = Math.max(6, Math.round((6 * ring.halfWidthPx + 6 * ring.sigmaPx) / step))
  return { map, ring, step, dark: darknessOf(pieces, half) }
}

/** What is still there and looks like a mark: faint ones, ones beside or across others. */
export const overlooked = ({ map, ring, step, dark }: Left, wanted: Wanted): StrokeModel[] => {
  const score = matched(dark.map((pieces) => shared(pieces, wanted.short)), step, ring)
  const count = score.length
  const found: StrokeModel[] = []
  const apart = Math.max(1, Math.round((0.9 * ring.halfWidthPx + 0.5 * ring.sigmaPx) / step))
  for (let i = 0; i < count; i++) {
    const here = score[i] as number
    if (here < wanted.least) continue
    const around = score.slice(Math.max(0, i - apart), i + apart + 1)
    if (here >= Math.max(...around)) found.push(modelAt(map, ring, ring.from + (i / count) * ring.span))
  }
  return found
}

/** The same in one go. */
export const lookAgain = (view: View, ring: Ring, known: readonly StrokeModel[], wanted: Wanted): StrokeModel[] => overlooked(leftRound(view, ring, known), wanted)
