import type { Plane } from '#core/detect/plane'
import type { Point } from '#core/detect/raster'
import { medianOrZero, robustSpread } from '#core/numeric/median'
import FFT from 'fft.js'
import { parabolaTop } from '#core/numeric/parabola-top'

/** One way in which a patch of a picture repeats itself, as rules do, or two that are nearly square to each other, as squares do. */
export interface Periods {
  /** Cycles per px of the plane; the second lies clockwise of the first as seen. */
  readonly ways: readonly [Point, Point?]
  /** Power of the weaker over the usual power of frequencies as high. */
  readonly contrast: number
  /** The same times the square of the period, px²: of a pattern's many harmonics its ground notes are wanted. */
  readonly worth: number
}

/** A patch's frequencies that stand out, and what in it is ink rather than paper. */
export interface Patch {
  /** Pairs of periods that squares may have, and single ones that rules may have; the best of each first. */
  readonly squares: readonly Periods[]
  readonly rules: readonly Periods[]
  /** What is darker or brighter than the usual by more than this is ink: natural logarithm. */
  readonly limit: number
}

/** Repeats in a patch: fewer is shading, and finer than this many px each is not resolved. */
const LEAST_REPEATS = 4
const FINEST_PX = 5
/** How unlike in length, and how far from square to each other, a slanting view makes two periods of squares. */
const UNLIKE = 1.6
const ASLANT = Math.cos((55 * Math.PI) / 180)
/** Peaks less clear than this many times the usual power are grain. */
const CLEAR = 8
/** Peaks that are compared in pairs, and how many pairs, or single ones, are worth a trial. */
const PEAKS = 16
const TRIED = 3

/** The patch about a place: its median taken off, ink cut off, faded out towards its sides; null where it leaves the plane. */
const patchAt = ({ width, height, data }: Plane, [cx, cy]: Point, size: number): { readonly values: Float64Array; readonly limit: number } | null => {
  const [left, top] = [Math.round(cx - size / 2), Math.round(cy - size / 2)]
  if (left < 0 || top < 0 || left + size > width || top + size > height) return null
  const values = new Float64Array(size * size)
  for (let y = 0; y < size; y++) values.set(data.subarray((top + y) * width + left, (top + y) * width + left + size), y * size)
  const some = Float64Array.from({ length: Math.ceil(values.length / 7) }, (_, i) => values[7 * i] as number)
  const middle = medianOrZero(some)
  const limit = 3 * robustSpread(some, middle)
  const fade = Float64Array.from({ length: size }, (_, i) => Math.sin((Math.PI * (i + 0.5)) / size) ** 2)
  for (let y = 0, i = 0; y < size; y++) for (let x = 0; x < size; x++, i++) values[i] = Math.max(-limit, Math.min(limit, (values[i] as number) - middle)) * (fade[x] as number) * (fade[y] as number)
  return { values, limit }
}

/** Squared size of each frequency that is low enough along x, column after column from 0; those below 0 are the same about the origin. */
const powerOf = (values: Float64Array, size: number): Float64Array => {
  const fft = new FFT(size)
  const low = Math.floor(size / FINEST_PX) + 2
  const columns = new Float64Array(2 * low * size)
  const [row, out] = [new Float64Array(size), new Float64Array(2 * size)]
  for (let y = 0; y < size; y++) {
    row.set(values.subarray(y * size, (y + 1) * size))
    fft.realTransform(out, row)
    for (let x = 0, to = 2 * y; x < low; x++, to += 2 * size) {
      columns[to] = out[2 * x] as number
      columns[to + 1] = out[2 * x + 1] as number
    }
  }
  const power = new Float64Array(low * size)
  for (let x = 0; x < low; x++) {
    fft.transform(out, columns.subarray(2 * x * size, 2 * (x + 1) * size))
    for (let y = 0; y < size; y++) power[x * size + y] = (out[2 * y] as number) ** 2 + (out[2 * y + 1] as number) ** 2
  }
  return power
}

interface Peak {
  readonly frequency: Point
  readonly contrast: number
}

/** Top of the parabola through three neighbours' logarithms, from the middle one. */
const between = (before: number, here: number, after: number): number => parabolaTop(Math.log(before), Math.log(here), Math.log(after))

const NEIGHBOURS = [[-1, -1], [0, -1], [1, -1], [-1, 0], [1, 0], [-1, 1], [0, 1], [1, 1]] as const

/** Clearest local maxima in half the plane of frequencies. */
const peaksOf = (power: Float64Array, size: number): Peak[] => {
  const at = (x: number, y: number): number => (x < 0 ? at(-x, -y) : (power[x * size + ((y + size) % size)] as number))
  const most = size / FINEST_PX
  const rings = Array.from({ length: Math.ceil(most) + 1 }, (): number[] => [])
  const tops: (readonly [x: number, y: number, far: number])[] = []
  for (let y = 0; y <= most; y++) {
    for (let x = y === 0 ? 0 : -Math.floor(most); x <= most; x++) {
      const far = Math.hypot(x, y)
      if (far < LEAST_REPEATS - 1 || far > most) continue
      const here = at(x, y)
      rings[Math.round(far)]?.push(here)
      if (far >= LEAST_REPEATS && NEIGHBOURS.every(([i, j]) => at(x + i, y + j) < here)) tops.push([x, y, far])
    }
  }
  const usual = rings.map(medianOrZero)
  return tops
    .map(([x, y, far]): Peak => {
      const here = at(x, y)
      return { frequency: [(x + between(at(x - 1, y), here, at(x + 1, y))) / size, (y + between(at(x, y - 1), here, at(x, y + 1))) / size], contrast: here / (usual[Math.round(far)] as number) }
    })
    .sort((p, q) => q.contrast - p.contrast)
    .slice(0, PEAKS)
}

/** Two peaks as the periods of squares; null where no slanting view makes them so. */
const squaresOf = ({ frequency: [ax, ay], contrast: one }: Peak, { frequency: [bx, by], contrast: two }: Peak): Periods | null => {
  const [p, q] = [Math.hypot(ax, ay), Math.hypot(bx, by)]
  if (Math.abs(ax * bx + ay * by) > ASLANT * p * q || p > UNLIKE * q || q > UNLIKE * p) return null
  const side = Math.sign(ax * by - ay * bx)
  const contrast = Math.min(one, two)
  return { ways: [[ax, ay], [side * bx, side * by]], contrast, worth: contrast / (p * q) }
}

const rulesOf = ({ frequency: [x, y], contrast }: Peak): Periods => ({ ways: [[x, y]], contrast, worth: contrast / (x * x + y * y) })

const worthTrying = (periods: readonly Periods[]): Periods[] => periods.filter((p) => p.contrast > CLEAR).sort((p, q) => q.worth - p.worth).slice(0, TRIED)

/**
 * Looks for the periods of squares, and of rules, in a square patch of a plane.
 * @param size the patch's side, a power of two, px of the plane
 * @returns null where the patch leaves the plane or is of one brightness
 */
export const findPeriods = (plane: Plane, place: Point, size: number): Patch | null => {
  const patch = patchAt(plane, place, size)
  if (patch === null || patch.limit === 0) return null
  const peaks = peaksOf(powerOf(patch.values, size), size)
  const pairs = peaks.flatMap((a, i) => peaks.slice(i + 1).flatMap((b) => squaresOf(a, b) ?? []))
  return { squares: worthTrying(pairs), rules: worthTrying(peaks.map(rulesOf)), limit: patch.limit }
}
