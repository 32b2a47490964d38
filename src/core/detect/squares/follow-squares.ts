import { type Plane, toFullResolution } from '#core/detect/plane'
import type { Point } from '#core/detect/raster'
import { applyHomography, fitHomography, type Homography } from '#core/numeric/homography'
import { medianOrZero } from '#core/numeric/median'
import type { Periods } from './find-periods.ts'

/** A place of the photo and where it lies among the squares, counted in squares. */
export interface Anchor {
  readonly px: Point
  readonly square: Point
}

/** The squares followed over a part of the photo. */
export interface Followed {
  readonly anchors: readonly Anchor[]
  /** Share of the places looked at where both families of lines were where they should be. */
  readonly share: number
}

/** Half a window's side, and the least distance from window to window, in squares; and as a share of the part that is followed. */
const REACH = 2
const APART = 1.6
const SPARSE = 0.11
/** By how much the part that is followed grows from one fit to the next. */
const GROWTH = 1.4
/** A line farther from where it should be than this, in squares, is none of them; and most lie nearer than that. */
const ASTRAY = 0.2
const USUAL = 0.09
const LEAST_ANCHORS = 12

/** How the squares' count changes with the photo at a place. */
const slopesAt = (map: Homography, [x, y]: Point): readonly [number, number, number, number] => {
  const [a, b, c, d] = [applyHomography(map, [x + 0.5, y]), applyHomography(map, [x - 0.5, y]), applyHomography(map, [x, y + 0.5]), applyHomography(map, [x, y - 0.5])]
  return [a[0] - b[0], c[0] - d[0], a[1] - b[1], c[1] - d[1]]
}

/** By how much, in squares, a family of lines lies off its expected phase in a window: positive where it comes later. */
const offIn = ({ width, data }: Plane, [px, py]: readonly [number, number], half: number, [right, down]: readonly [number, number], [phase, limit, middle]: readonly [number, number, number]): number => {
  const fade = Float64Array.from({ length: 2 * half + 1 }, (_, i) => Math.cos((Math.PI * (i - half)) / (2 * half + 2)) ** 2)
  const turn = 2 * Math.PI
  const [stepCos, stepSin] = [Math.cos(turn * right), Math.sin(turn * right)]
  let [re, im] = [0, 0]
  for (let j = -half; j <= half; j++) {
    const start = turn * (phase + down * j - right * half)
    let [cos, sin, rowRe, rowIm] = [Math.cos(start), Math.sin(start), 0, 0]
    for (let i = -half, at = (py + j) * width + px - half; i <= half; i++, at++) {
      const v = Math.max(-limit, Math.min(limit, middle - (data[at] as number))) * (fade[i + half] as number)
      rowRe += v * cos
      rowIm += v * sin
      const next = cos * stepCos - sin * stepSin
      sin = sin * stepCos + cos * stepSin
      cos = next
    }
    re += rowRe * (fade[j + half] as number)
    im += rowIm * (fade[j + half] as number)
  }
  return Math.atan2(im, re) / turn
}

/** Mean brightness of a window, ink left out as far as one look can. */
const middleOf = ({ width, data }: Plane, [px, py]: readonly [number, number], half: number): number => {
  const some: number[] = []
  for (let j = -half; j <= half; j += 3) for (let i = -half; i <= half; i += 3) some.push(data[(py + j) * width + px + i] as number)
  return medianOrZero(some)
}

interface Look {
  readonly plane: Plane
  readonly limit: number
  readonly usable: (px: Point) => boolean
}

/** The window at a place of the plane measured against the expected squares; null where it leaves the plane or the paper. */
const lookAt = ({ plane, limit, usable }: Look, map: Homography, [x, y]: Point): Anchor | null => {
  const slopes = slopesAt(map, [x, y])
  const half = Math.round(REACH / Math.sqrt(Math.abs(slopes[0] * slopes[3] - slopes[1] * slopes[2])))
  const [px, py] = [Math.round(x), Math.round(y)]
  const ends: readonly Point[] = [[px - half, py - half], [px + half, py - half], [px + half, py + half], [px - half, py + half]]
  if (!ends.every(([a, b]) => a >= 0 && b >= 0 && a < plane.width && b < plane.height && usable(toFullResolution(plane, [a, b])))) return null
  const [u, v] = applyHomography(map, [px, py])
  const middle = middleOf(plane, [px, py], half)
  const offU = offIn(plane, [px, py], half, [slopes[0], slopes[1]], [u, limit, middle])
  const offV = offIn(plane, [px, py], half, [slopes[2], slopes[3]], [v, limit, middle])
  return { px: [px, py], square: [u - offU, v - offV] }
}

const fitted = (anchors: readonly Anchor[]): Homography | null => fitHomography(anchors.map((a) => a.px), anchors.map((a) => a.square))

const offOf = (map: Homography, { px, square }: Anchor): number => {
  const [u, v] = applyHomography(map, px)
  return Math.hypot(u - square[0], v - square[1])
}

/** The fit without anchors that lie far off it for their kind. */
const settled = (anchors: readonly Anchor[]): { readonly map: Homography; readonly kept: readonly Anchor[] } | null => {
  let kept = anchors
  for (let round = 0; round < 4; round++) {
    const map = kept.length < LEAST_ANCHORS ? null : fitted(kept)
    if (map === null) return null
    const usual = medianOrZero(kept.map((a) => offOf(map, a)))
    const next = anchors.filter((a) => offOf(map, a) < Math.max(0.02, 3 * usual))
    if (next.length === kept.length) return { map, kept }
    kept = next
  }
  const map = fitted(kept)
  return map === null ? null : { map, kept }
}

const placesIn = ([cx, cy]: Point, radius: number, step: number): Point[] => {
  const most = Math.floor(radius / step)
  const line = Array.from({ length: 2 * most + 1 }, (_, i) => (i - most) * step)
  return line.flatMap((dy) => line.map((dx): Point => [cx + dx, cy + dy])).filter(([x, y]) => Math.hypot(x - cx, y - cy) <= radius)
}

/**
 * Follows squares from a patch where their periods are known over the disc that is asked for, fitting the perspective anew as the part grows.
 * @param seed the patch's middle, px of the plane
 * @param disc middle and radius, px of the plane
 * @returns anchors in px of the plane; null where the squares are lost on the way
 */
export const followSquares = (look: Look, { along, across }: Periods, seed: Point, { middle, radius }: { readonly middle: Point; readonly radius: number }): Followed | null => {
  const apart = (2 * APART) / (Math.hypot(...along) + Math.hypot(...across))
  const first = lookAt(look, [...along, 0, ...across, 0, 0, 0, 1], seed)
  if (first === null) return null
  const { px, square } = first
  let map: Homography = [...along, square[0] - along[0] * px[0] - along[1] * px[1], ...across, square[1] - across[0] * px[0] - across[1] * px[1], 0, 0, 1]
  const far = Math.hypot(seed[0] - middle[0], seed[1] - middle[1]) + radius
  for (let reach = 2.5 * apart; ; reach *= GROWTH) {
    const step = Math.max(apart, SPARSE * Math.min(reach, far))
    const all = placesIn(seed, Math.min(reach, far), step).filter(([x, y]) => Math.hypot(x - middle[0], y - middle[1]) <= radius + step)
    const seen = all.flatMap((place) => lookAt(look, map, place) ?? [])
    const near = seen.filter((a) => offOf(map, a) < ASTRAY)
    const fit = near.length < 0.4 * seen.length ? null : settled(near)
    if (fit === null || medianOrZero(fit.kept.map((a) => offOf(fit.map, a))) > USUAL) return null
    map = fit.map
    if (reach >= far) return { anchors: fit.kept, share: fit.kept.length / seen.length }
  }
}
