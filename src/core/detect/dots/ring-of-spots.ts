import { alike, type Spot, type Things } from '#core/detect/strip/find-spots'
import { type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { fitCircleKasa } from '#core/numeric/fit-circle'
import { fitLine } from '#core/numeric/fit-line'
import { medianOrZero, robustSpread } from '#core/numeric/median'
import { rms } from '#core/numeric/moments'
import { seededRandom } from '#core/numeric/seeded-random'

/** Like spots on a circle in the plane, and what lies by it. */
export interface SpotRing {
  readonly centre: Point
  readonly radius: number
  readonly spots: readonly Spot[]
  /** Like spots beside the circle. */
  readonly off: readonly Spot[]
  /** Larger things on it that may be several spots run together. */
  readonly larger: readonly Spot[]
}

/** A spot that fills less of the circle about it is a letter or a figure. */
const FILLED = 0.55
const LEAST_SPOTS = 12
/** Area of a dot over the usual one: smaller is a speck; larger, a dot pressed on or gone over. */
const SMALLER = 3
const LARGER = 5
/** Least part of the turn, of 36. */
const LEAST_SECTORS = 5
const LEAST_SPAN = Math.PI / 3
/** Greatest distance from the circle over its radius: a hand dots within some per cent of it. */
const NEAR = 0.08
const TRIES = 4000
/** A ring that holds fewer than this share of the picture's like spots is chance: print, a dotted paper. */
const LEAST_SHARE = 0.5
/** Spots farther off the circle than this many times their scatter are not on it, and beyond this share of the radius nothing of it. */
const MOST_OFF = 5
const BESIDE = 0.2

/** Of spots scattered anywhere as many lie beside the circle as on it. */
const FEW_BESIDE = 0.25
/** Few spots that scatter more than this share of the radius may be anywhere. */
const TIGHT = 0.03
/** Many may, where their rms is more than this share of how far off the circle they are looked for: 0.58 of it when they are spread evenly, 0.2 when about the circle. */
const MANY = 40
const EVENLY = 0.4
/** And they must scatter less about it than this share of what they do about a straight line. */
const CURVED = 0.7

interface Placed {
  readonly spot: Spot
  readonly place: Point
}

interface Round {
  readonly centre: Point
  readonly radius: number
}

const away = ({ centre, radius }: Round, [x, y]: Point): number => Math.hypot(x - centre[0], y - centre[1]) - radius

const bearingsOf = (placed: readonly Placed[], [cx, cy]: Point): number[] => placed.map(({ place: [x, y] }) => Math.atan2(y - cy, x - cx)).sort((a, b) => a - b)

/** The part of the turn from the first to the last, rad: what the widest gap leaves. */
const spanOf = (bearings: readonly number[]): number => {
  const first = bearings[0] as number
  return 2 * Math.PI - Math.max(...bearings.map((b, i) => (bearings[i + 1] ?? first + 2 * Math.PI) - b))
}

/** How many spots of a size a circle passes close by, the nearer the more; none where they are in one place. */
const worthOf = (placed: readonly Placed[], circle: Round, { area }: Spot): number => {
  const sectors = new Set<number>()
  let sum = 0
  for (const { spot, place } of placed) {
    const t = away(circle, place) / (NEAR * circle.radius)
    if (t * t >= 1 || spot.area > 3 * area || area > 3 * spot.area) continue
    sum += 1 - t * t
    sectors.add(Math.floor((18 * Math.atan2(place[1] - circle.centre[1], place[0] - circle.centre[0])) / Math.PI))
  }
  return sectors.size < LEAST_SECTORS ? 0 : sum
}

/** The circle through three spots, or about a place that is told, close to most others (random sample consensus). */
const roughCircle = (placed: readonly Placed[], told: Point | null): { readonly circle: Round; readonly like: Spot } | null => {
  const random = seededRandom(1)
  const draw = (): Placed => placed[Math.floor(random() * placed.length)] as Placed
  let best: { readonly circle: Round; readonly like: Spot } | null = null
  let most = 0
  for (let n = 0; n < TRIES; n++) {
    const [a, b, c] = [draw(), draw(), draw()]
    const circle = told === null ? fitCircleKasa([a.place, b.place, c.place]) : { centre: told, radius: Math.hypot(a.place[0] - told[0], a.place[1] - told[1]) }
    if (circle === null || !(circle.radius > 0)) continue
    const worth = worthOf(placed, circle, a.spot)
    if (worth <= most) continue
    most = worth
    best = { circle, like: a.spot }
  }
  return best
}

/** Fits the circle again and again to the spots within a few times their scatter of it. */
const settled = (placed: readonly Placed[], rough: Round): { readonly circle: Round; readonly limit: number } | null => {
  let [circle, limit] = [rough, NEAR * rough.radius]
  for (let round = 0; round < 6; round++) {
    const on = placed.filter(({ place }) => Math.abs(away(circle, place)) < limit)
    const next = on.length < LEAST_SPOTS ? null : fitCircleKasa(on.map((p) => p.place))
    if (next === null) return null
    circle = next
    limit = Math.min(2 * NEAR * circle.radius, Math.max(0.005 * circle.radius, MOST_OFF * robustSpread(on.map(({ place }) => away(next, place)))))
  }
  return { circle, limit }
}

/** Does a circle fit places clearly better than a straight line does? */
const isCurved = (places: readonly Point[], circle: Round): boolean => {
  const line = fitLine(places)
  if (line === null) return true
  const aside = places.map(([x, y]) => (y - line.point[1]) * line.direction[0] - (x - line.point[0]) * line.direction[1])
  return rms(places.map((p) => away(circle, p))) < CURVED * rms(aside)
}

/** Two like dots that touch, by the moments of what they make together: those along and across it differ by a quarter of their distance squared. */
const asPair = (both: Spot, usual: Spot): Spot[] => {
  const [xx, xy, yy] = both.moments
  const half = Math.hypot((xx - yy) / 2, xy)
  const across = (xx + yy) / 2 - half
  const alone = (usual.moments[0] + usual.moments[2]) / 2
  if (both.area > 2.4 * usual.area || across > 1.5 * alone || half < 0.5 * alone) return []
  const [turn, reach] = [Math.atan2(2 * xy, xx - yy) / 2, Math.sqrt(2 * half)]
  return [-1, 1].map((sign) => ({ ...usual, middle: [both.middle[0] + sign * reach * Math.cos(turn), both.middle[1] + sign * reach * Math.sin(turn)] }))
}

/**
 * The circle, in the plane, that most of the like filled spots lie on over a sixth of the turn or more.
 * @param told where its centre is known to be about, plane
 * @returns null for fewer than twelve spots, for an arc below 60°, and where the ring is a small part of all such spots
 */
export const ringOfSpots = ({ round, other }: Things, map: PlaneMap, told: Point | null): SpotRing | null => {
  const placedAt = (spot: Spot): Placed => ({ spot, place: toPlane(map, spot.middle) })
  const all = round.filter(({ area, halfPx }) => area > FILLED * Math.PI * halfPx ** 2).map(placedAt)
  const rough = all.length < LEAST_SPOTS ? null : roughCircle(all, told)
  if (rough === null) return null
  const near = all.filter(({ place }) => Math.abs(away(rough.circle, place)) < NEAR * rough.circle.radius).map((p) => p.spot)
  const area = medianOrZero(alike(near, [rough.like]).map((spot) => spot.area))
  const like = all.filter(({ spot }) => spot.area > area / SMALLER && spot.area < LARGER * area)
  const fit = settled(like, rough.circle)
  if (fit === null) return null
  const { circle, limit } = fit
  const off = ({ place }: Placed): number => Math.abs(away(circle, place))
  const on = like.filter((p) => off(p) < limit)
  const beside = like.filter((p) => off(p) >= limit && off(p) < limit + BESIDE * circle.radius)
  const isTight = rms(on.map(off)) < (on.length >= MANY ? EVENLY * limit : TIGHT * circle.radius)
  const isRing = isTight && on.length >= Math.max(LEAST_SPOTS, LEAST_SHARE * like.length) && beside.length < FEW_BESIDE * on.length
  if (!isRing || spanOf(bearingsOf(on, circle.centre)) < LEAST_SPAN || !isCurved(on.map((p) => p.place), circle)) return null
  const byArea = on.map(({ spot }) => spot).sort((p, q) => p.area - q.area)
  const usual = byArea[byArea.length >> 1] as Spot
  const dots = new Set(like.map((p) => p.spot))
  const larger = [...round, ...other].filter((s) => s.area > 1.4 * usual.area && s.area < 6 * usual.area && off(placedAt(s)) < limit)
  const pairs = new Map(larger.map((s) => [s, asPair(s, usual)]))
  const isPair = (s: Spot): boolean => (pairs.get(s) ?? []).length > 0
  return {
    ...circle,
    spots: [...on.map((p) => p.spot).filter((s) => !isPair(s)), ...[...pairs.values()].flat()],
    off: beside.map((p) => p.spot),
    larger: larger.filter((s) => !isPair(s) && !dots.has(s)),
  }
}
