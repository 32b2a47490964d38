import { type Plane, toFullResolution } from '#core/detect/plane'
import type { Point } from '#core/detect/raster'
import { applyHomography, fitEvenLines, fitHomography, type Homography, homographySlopes } from '#core/numeric/homography'
import { medianOrZero } from '#core/numeric/median'
import { mean } from '#core/numeric/moments'
import type { Periods } from './find-periods.ts'

/** A place of the photo and where it lies in the pattern: counted in rules, or in squares along and across. */
export interface Anchor {
  readonly px: Point
  readonly counts: readonly [number, number?]
}

/** The pattern followed over a part of the photo. */
export interface Followed {
  readonly anchors: readonly Anchor[]
  /** Share of the places looked at where every family of lines was where it should be. */
  readonly share: number
  /** Mean cosine of how far, in turns, the lines at those places are from where they should be: 1 when all are there, about 0 in noise. */
  readonly agree: number
}

/** Half a window's side, and the least distance from window to window, in periods; and as a share of the part that is followed. */
const REACH = 2
const APART = 1.6
const SPARSE = 0.11
/** By how much the part that is followed grows from one fit to the next. */
const GROWTH = 1.4
/** A line farther from where it should be than this, in squares, is none of them; and most lie nearer than that. */
const ASTRAY = 0.2
const USUAL = 0.09
/** Share of the places where rules, or squares, must be seen as they are followed: by chance it is 0.4, or 0.13. Of rules only the places that the last fit did not know count. */
const LEAST_NEAR: readonly number[] = [1, 0.5, 0.4]
const LEAST_ANCHORS = 12

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

/** The window at a place of the plane measured against the expected pattern of one or two families; null where it leaves the plane or the paper. */
const lookAt = ({ plane, limit, usable }: Look, map: Homography, [x, y]: Point, families: number): Anchor | null => {
  const slopes = homographySlopes(map, [x, y])
  const half = Math.round(REACH / Math.sqrt(Math.abs(slopes[0] * slopes[3] - slopes[1] * slopes[2])))
  const [px, py] = [Math.round(x), Math.round(y)]
  const ends: readonly Point[] = [[px - half, py - half], [px + half, py - half], [px + half, py + half], [px - half, py + half]]
  if (!ends.every(([a, b]) => a >= 0 && b >= 0 && a < plane.width && b < plane.height && usable(toFullResolution(plane, [a, b])))) return null
  const [u, v] = applyHomography(map, [px, py])
  const middle = middleOf(plane, [px, py], half)
  const along = u - offIn(plane, [px, py], half, [slopes[0], slopes[1]], [u, limit, middle])
  return { px: [px, py], counts: families === 1 ? [along] : [along, v - offIn(plane, [px, py], half, [slopes[2], slopes[3]], [v, limit, middle])] }
}

/** Where places lie in the pattern, by least squares; of rules the second coordinate tells nothing. */
export const fitPattern = (places: readonly Point[], counts: readonly Anchor['counts'][]): Homography | null =>
  counts[0]?.[1] === undefined ? fitEvenLines(places, counts.map(([u]) => u)) : fitHomography(places, counts as readonly Point[])

const fitted = (anchors: readonly Anchor[]): Homography | null => fitPattern(anchors.map((a) => a.px), anchors.map((a) => a.counts))

/** How far an anchor lies from where the map has it, in periods. */
const offOf = (map: Homography, { px, counts: [along, across] }: Anchor): number => {
  const [u, v] = applyHomography(map, px)
  return across === undefined ? Math.abs(u - along) : Math.hypot(u - along, v - across)
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

/** The pattern about a place as a patch shows it, without perspective; of rules the second coordinate runs along them. */
const flat = ([[a, b], [c, d] = [-b, a]]: Periods['ways'], { px: [x, y], counts: [u, v = 0] }: Anchor): Homography => [a, b, u - a * x - b * y, c, d, v - c * x - d * y, 0, 0, 1]

const placesIn = ([cx, cy]: Point, [inner, outer]: readonly [number, number], step: number): Point[] => {
  const most = Math.floor(outer / step)
  const line = Array.from({ length: 2 * most + 1 }, (_, i) => (i - most) * step)
  return line.flatMap((dy) => line.map((dx): Point => [cx + dx, cy + dy])).filter(([x, y]) => {
    const away = Math.hypot(x - cx, y - cy)
    return away <= outer && (inner === 0 || away > inner)
  })
}

/**
 * Follows squares or rules from a patch where their periods are known over the disc that is asked for, fitting the perspective anew as the part grows.
 * @param seed the patch's middle, px of the plane
 * @param disc middle and radius, px of the plane
 * @returns anchors in px of the plane; null where the pattern is lost on the way
 */
export const followPattern = (look: Look, { ways }: Periods, seed: Point, { middle, radius }: { readonly middle: Point; readonly radius: number }): Followed | null => {
  const families = ways.length
  const [one, two = one] = ways
  const apart = (2 * APART) / (Math.hypot(...one) + Math.hypot(...two))
  const first = lookAt(look, flat(ways, { px: [0, 0], counts: [0, 0] }), seed, families)
  if (first === null) return null
  let map = flat(ways, first)
  let seen: readonly Anchor[] = []
  const far = Math.hypot(seed[0] - middle[0], seed[1] - middle[1]) + radius
  for (let reach = 2.5 * apart, known = 0; ; known = families === 1 ? reach : 0, reach *= GROWTH) {
    const step = Math.max(apart, SPARSE * Math.min(reach, far))
    const fresh = placesIn(seed, [known, Math.min(reach, far)], step).filter(([x, y]) => Math.hypot(x - middle[0], y - middle[1]) <= radius + step).flatMap((place) => lookAt(look, map, place, families) ?? [])
    const isNear = (a: Anchor): boolean => offOf(map, a) < ASTRAY
    seen = known > 0 ? [...seen, ...fresh] : fresh
    const fit = fresh.filter(isNear).length < (LEAST_NEAR[families] as number) * fresh.length ? null : settled(seen.filter(isNear))
    if (fit === null || medianOrZero(fit.kept.map((a) => offOf(fit.map, a))) > USUAL) return null
    map = fit.map
    if (reach >= far) return { anchors: fit.kept, share: fit.kept.length / seen.length, agree: mean(seen.map((a) => Math.cos(2 * Math.PI * offOf(fit.map, a)))) }
  }
}
