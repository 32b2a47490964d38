import type { Point } from '#core/detect/raster'
import { applyHomography, fitHomography, type Homography, homographySlopes } from '#core/numeric/homography'
import { once } from '#core/numeric/once'
import { seededRandom } from '#core/numeric/seeded-random'
import { type Ellipse, ellipsePoint, meanAxis } from './ellipse.ts'
import { pageCount, pageOfNumber, type PagePlace } from './page-number.ts'
import type { TargetReading } from './read-target.ts'
import type { Place } from './page-size.ts'
import { identityAt } from './target-code.ts'
import { targetMm, targetPlaces } from './target-places.ts'

/** A ring whose ticks were read. */
export interface ReadRing extends TargetReading {
  /** The ring's outer edge, px. */
  readonly outer: Ellipse
}

/** A ring and the printed target that it is. */
export interface MatchedTarget {
  readonly ring: ReadRing
  readonly page: number
  readonly mm: Place
}

export interface PageMatch {
  readonly homography: Homography
  readonly targets: readonly MatchedTarget[]
}

/** For each page, where on the sheet each identity is. */
const placesByPage = once((): readonly ReadonlyMap<number, Place>[] =>
  Array.from({ length: pageCount }, (_, page) => new Map(targetPlaces(pageOfNumber(page)).map((mm, place) => [identityAt(page, place), mm] as const))),
)

const placeOf = (page: number, identity: number): Place | null => placesByPage()[page]?.get(identity) ?? null

/** Columns of the local map sheet mm → px that a ring shows by its shape and turn. */
const localMap = (ring: ReadRing): readonly [Point, Point] => {
  const [c, s] = [Math.cos(ring.turnRad) / targetMm.outer, Math.sin(ring.turnRad) / targetMm.outer]
  const { centre } = ring.outer
  const column = (x: number, y: number): Point => {
    const [px, py] = ellipsePoint(ring.outer, x, y)
    return [px - centre[0], py - centre[1]]
  }
  return [column(c, -s), column(s, c)]
}

/** Whether a homography puts a target where its ring is, of the same size, turned and handed alike. */
const agrees = (homography: Homography, { ring, mm }: MatchedTarget, reach: number): boolean => {
  const [x, y] = applyHomography(homography, mm)
  const size = meanAxis(ring.outer)
  if (!(Math.hypot(x - ring.outer.centre[0], y - ring.outer.centre[1]) < reach * size + 1)) return false
  const [a, b, c, d] = homographySlopes(homography, mm)
  const [right, down] = localMap(ring)
  const scale = size / targetMm.outer
  return Math.hypot(a - right[0], c - right[1]) < 0.3 * scale && Math.hypot(b - down[0], d - down[1]) < 0.3 * scale
}

const pick = (count: number, random: () => number): readonly number[] => {
  const chosen = new Set<number>()
  while (chosen.size < 4) chosen.add(Math.floor(random() * count))
  return [...chosen]
}

/** In units of the ring's semi-axis: wide enough for a lens's bend, a fifth of the distance to the next target. */
const closeReach = 1

/** The map that most of a page's targets agree with, from fours drawn among them. */
const bestMap = (targets: readonly MatchedTarget[]): PageMatch | null => {
  const random = seededRandom(targets.length)
  const tries = targets.length === 4 ? 1 : 60
  let best: PageMatch | null = null
  for (let n = 0; n < tries && (best?.targets.length ?? 0) < 0.9 * targets.length; n++) {
    const four = pick(targets.length, random).flatMap((index) => targets[index] ?? [])
    const homography = fitHomography(four.map(({ mm }) => mm), four.map(({ ring }) => ring.outer.centre))
    if (homography === null) continue
    const agreeing = targets.filter((target) => agrees(homography, target, closeReach))
    if (agreeing.length >= 4 && agreeing.length > (best?.targets.length ?? 0)) best = { homography, targets: agreeing }
  }
  return best
}

const targetsOnPage = (rings: readonly ReadRing[], page: number): readonly MatchedTarget[] =>
  rings.flatMap((ring) => {
    const mm = placeOf(page, ring.identity)
    return mm ? [{ ring, page, mm }] : []
  })

const joins = (a: PagePlace, b: PagePlace): boolean => a.rig === b.rig && a.paper === b.paper

/** Targets of other pages of the same sheet that lie where the first page's map says, give or take the joining. */
const neighbours = ({ homography, targets }: PageMatch, rings: readonly ReadRing[]): readonly MatchedTarget[] => {
  const base = targets[0]?.page ?? 0
  const taken = new Set(targets.map(({ ring }) => ring))
  const free = rings.filter((ring) => !taken.has(ring))
  const pages = Array.from({ length: pageCount }, (_, page) => page)
  return pages
    .filter((page) => page !== base && joins(pageOfNumber(page), pageOfNumber(base)))
    .flatMap((page) => {
      const found = targetsOnPage(free, page).filter((target) => agrees(homography, target, closeReach))
      return found.length >= 3 ? found : []
    })
}

/**
 * Tells which page of which sheet is in view, and roughly where, from the identities, places, sizes and turns of four
 * or more targets; null when no four of them fit one page. A mirrored picture fits none.
 */
export const matchPage = (rings: readonly ReadRing[]): PageMatch | null => {
  if (rings.length < 4) return null
  const candidates = Array.from({ length: pageCount }, (_, page) => targetsOnPage(rings, page))
    .filter((targets) => targets.length >= 4)
    .sort((a, b) => b.length - a.length)
  let best: PageMatch | null = null
  for (const targets of candidates) {
    if (targets.length <= (best?.targets.length ?? 0)) break
    const match = bestMap(targets)
    if (match && match.targets.length > (best?.targets.length ?? 0)) best = match
  }
  return best && { homography: best.homography, targets: [...best.targets, ...neighbours(best, rings)] }
}
