import type { MarksSeen } from '#core/detect/bearing-doubts'
import { type Plane, toFullResolution, toReduced } from '#core/detect/plane'
import type { Point } from '#core/detect/raster'
import { findPeriods, type Patch, type Periods } from './find-periods.ts'
import { type Followed, followPattern } from './follow-pattern.ts'

/** How a pattern is looked for. */
export interface Search {
  readonly kind: keyof Pick<Patch, 'squares' | 'rules'>
  /** One after the other: planes, and sides of the patches that are searched in them, powers of two, px of the plane. */
  readonly looks: readonly { readonly plane: Plane; readonly size: number }[]
  /** Whether a place (px) is on the paper and not to be ignored. */
  readonly usable: (px: Point) => boolean
  /** Also look towards the marks' ends; otherwise a glance will do. */
  readonly closely: boolean
}

/** Periods that are tried of each size; and at a glance. */
const TRIES = 6
const GLANCES = 3
/** Beyond the marks' outer ends the pattern is followed this far, as a share of their radius. */
const BEYOND = 1.1
const LEAST_ANCHORS = 24

/** The pattern is looked for at the shaft and round it, at these shares of the way to the marks' ends; at a glance at three places. */
const SEEDS = [0.5, 0.9]
const GLANCED: readonly number[] = [0, 1, 3]
const seedsOf = ([cx, cy]: Point, radius: number, shares: readonly number[]): Point[] => [[cx, cy], ...shares.flatMap((share) => [0, 1, 2, 3].map((i): Point => [cx + share * radius * Math.cos((Math.PI * i) / 2 + share), cy + share * radius * Math.sin((Math.PI * i) / 2 + share)]))]

interface Seed {
  readonly place: Point
  readonly periods: Periods
  readonly limit: number
}

const clearestSeeds = ({ kind, closely }: Search, plane: Plane, places: readonly Point[], size: number): Seed[] =>
  places
    .flatMap((place) => {
      const patch = findPeriods(plane, place, size)
      return (patch?.[kind] ?? []).map((periods): Seed => ({ place, periods, limit: patch?.limit ?? 0 }))
    })
    .sort((p, q) => q.periods.worth - p.periods.worth)
    .slice(0, closely ? TRIES : GLANCES)

/**
 * Looks for a pattern about the marks and follows it over them.
 * @param told what the anchors (px of the photo) tell; null where they are not of such a pattern
 * @returns what the first that is one tells; null where none shows
 */
export const findPattern = <Told>({ centrePx, strokes }: MarksSeen, search: Search, told: (followed: Followed) => Told | null): Told | null => {
  const { looks, usable, closely } = search
  const far = BEYOND * Math.max(...strokes.flatMap(({ p0, p1 }) => [p0, p1].map((p) => Math.hypot(p[0] - centrePx[0], p[1] - centrePx[1]))))
  for (const { plane, size } of looks) {
    const [middle, radius] = [toReduced(plane, centrePx), far / plane.factor]
    const places = seedsOf(middle, radius, SEEDS).filter((_, i) => closely || GLANCED.includes(i)).filter((p) => usable(toFullResolution(plane, p)))
    for (const { place, periods, limit } of clearestSeeds(search, plane, places, size)) {
      const followed = followPattern({ plane, limit, usable }, periods, place, { middle, radius })
      if (followed === null || followed.anchors.length < LEAST_ANCHORS) continue
      const known = told({ ...followed, anchors: followed.anchors.map(({ px, counts }) => ({ px: toFullResolution(plane, px), counts })) })
      if (known !== null) return known
    }
  }
  return null
}
