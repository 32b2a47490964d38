import type { CentreEstimate } from '#core/detect/centre/centre-estimate'
import type { Otherwise } from '#core/detect/centre/combine-centres'
import { jacobianAt, type PlaneMap, toPhoto } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { USUAL_TILT } from '#core/detect/lens'
import { cellsToPlane, type Patch, patchAround } from './patch.ts'
import { type Rim, rimsAbout } from './rims.ts'
import { edgesOf, voteRound } from './vote-round.ts'

export interface RoundRim {
  readonly centre: Point
  readonly radius: number
}

/** A place that is known if what shows it lies in the paper, less so along the line of sight if it stands above, and less altogether if it was cut without care. */
export interface RoundCentre extends CentreEstimate {
  readonly otherwise: readonly Otherwise[]
}

/** Round things that show where the shaft is: what turns with it or was turned with its seat, and the hole cut in the paper for it. */
export interface RoundThings {
  /** All round edges, plane. */
  readonly rims: readonly RoundRim[]
  readonly shaft: RoundCentre | null
  readonly hole: RoundCentre | null
}

export interface RoundWish {
  readonly near: Point
  /** How far from `near` (plane) the shaft may be. */
  readonly reach: number
  /** The marks' radius, plane units. */
  readonly radius: number
  /** Plane units per mm, or what comes nearest to it. */
  readonly perMm: number
  /** Does the plane show the paper's true shape? */
  readonly rectified: boolean
  /** Brightness of bare paper, grey levels. */
  readonly paper: number
}

/** Least and greatest radius, mm: from a thin shaft's end to a motor's boss or a pointer's hub; and no more than this share of the marks' radius. */
const SIZES_MM = [0.7, 13] as const
const MOST_SHARE = 0.3
/** Radii below this share of the greatest are looked for by themselves: the shine on a shaft's end would outvote larger rims. */
const SMALL = 0.3
const PLACES = 4
/** Centres nearer to each other than this, cells, are looked at once. */
const SAME = 0.5
/** How nearly the rim of a shaft's end or a boss has the shaft's own centre, mm (common practice, no source). */
const TRUE_MM = 0.05
/** And a rim in the photo its true place, cells: shine shifts it. */
const SHINE = 0.15
/** A rim that is hidden in part may follow something else there: by this share of its radius per share of the turn hidden. */
const HIDDEN = 0.2
/** Something turned lies this far above or below the paper, mm as a standard uncertainty (common practice, no source): seen aslant it is displaced. */
const FLUSH_MM = 1
/** A shaft's end or a pointer's hub stands above the paper by so much, mm as a standard uncertainty about none, in so many of the photos (common practice, no source). */
const STANDING_MM = 10
const STANDING = { hole: 0.3, shaft: 0.6 } as const
/** How nearly the line of sight is known where the perspective is, rad. */
const SIGHT = 0.15
/** How truly a hole is cut about a shaft, mm; and in so many of the photos no better than this (common practice, no source). */
const CUT_MM = 0.25
const ROUGHLY = { cutMm: 0.6, chance: 0.15 } as const
/** Outside a hole there is paper: at least this share of its brightness. */
const PALE = 0.75
/** A contrast of so many grey levels is clear. */
const CLEAR = 60
/** Scatter about the circle that halves a rim's worth, cells. */
const UNROUND = 0.3
const LEAST_SHARE = { hole: 0.75, shaft: 0.68 } as const

const worth = ({ share, radius, height, rms }: Rim): number => (share * Math.sqrt(radius) * Math.min(1, height / CLEAR)) / (1 + (rms / UNROUND) ** 2)

const best = (rims: readonly Rim[]): Rim | null => rims.reduce<Rim | null>((most, rim) => (most === null || worth(rim) > worth(most) ? rim : most), null)

/** Of the readings of the best rim, from one place and another, the one that follows it farthest round. */
const bestRound = (rims: readonly Rim[]): Rim | null => {
  const rim = best(rims)
  const isSame = ({ centre: [x, y], radius }: Rim): boolean => rim !== null && Math.hypot(x - rim.centre[0], y - rim.centre[1], radius - rim.radius) < SAME
  return rims.filter(isSame).reduce<Rim | null>((most, one) => (most === null || one.share > most.share ? one : most), null)
}

/** Rims about the places that edges lie evenly round, each looked at again from its own clearest one's centre. */
const rimsIn = (patch: Patch, [least, greatest]: readonly [number, number], within: number): Rim[] => {
  const edges = edgesOf(patch)
  const halves = [[least, Math.max(least + 1, SMALL * greatest)], [Math.max(least, SMALL * greatest), greatest]] as const
  const places = halves.flatMap((radii) => voteRound(edges, patch.size, { radii, within, most: PLACES }))
  const looked: Point[] = []
  /** Rims about a centre, unless they were looked at from there before. */
  const from = (centre: Point): Rim[] => {
    if (looked.some(([x, y]) => Math.hypot(x - centre[0], y - centre[1]) < SAME)) return []
    looked.push(centre)
    return rimsAbout(patch, centre, [least, greatest])
  }
  const first = places.map((place) => from(place))
  const about = first.flatMap((rims) => {
    const clearest = best(rims)
    return clearest === null ? [] : from(clearest.centre)
  })
  // A shaft need not stand in the middle of its hole.
  return [...first.flat(), ...about, ...about.flatMap((rim) => from(rim.centre))]
}

/** Displacement in the plane of what stands 1 mm above the paper: away from the camera, by the tangent of the angle of view. */
const raisedBy = (map: PlaneMap, centre: Point, perMm: number): Point => {
  const [a, b, c, d] = jacobianAt(map, toPhoto(map, centre))
  const [xx, xy, yy] = [a * a + b * b, a * c + b * d, c * c + d * d]
  const mean = (xx + yy) / 2
  const spread = Math.hypot((xx - yy) / 2, xy)
  // Foreshortening is the cosine of the angle of view; the plane is stretched most along the line of sight.
  const tangent = Math.sqrt((2 * spread) / Math.max(1e-12, mean - spread))
  const angle = Math.atan2(xy, (xx - yy) / 2) / 2
  return [perMm * tangent * Math.cos(angle), perMm * tangent * Math.sin(angle)]
}

interface Seen {
  readonly rim: Rim
  /** Variance of its place as it is seen, and if it was made without care. */
  readonly own: number
  readonly rough: number
  readonly kind: 'hole' | 'shaft'
  readonly flush: number
}

const roundCentre = ({ rim, own, rough, kind, flush }: Seen, patch: Patch, map: PlaneMap, { perMm, rectified }: RoundWish): RoundCentre => {
  const centre = cellsToPlane(patch, rim.centre)
  const [dx, dy] = rectified ? raisedBy(map, centre, perMm) : [perMm * USUAL_TILT, perMm * USUAL_TILT]
  const aside = rectified ? SIGHT ** 2 * (dx * dx + dy * dy) : 0
  const above = (mm: number, base = own): CentreEstimate['covariance'] => [base + mm * mm * (dx * dx + aside), rectified ? mm * mm * dx * dy : 0, base + mm * mm * (dy * dy + aside)]
  const careless = rough > own ? [{ covariance: above(flush, rough), chance: ROUGHLY.chance }] : []
  return { centre, covariance: above(flush), otherwise: [{ covariance: above(STANDING_MM), chance: STANDING[kind] }, ...careless] }
}

const holeOf = (rims: readonly Rim[], patch: Patch, map: PlaneMap, wish: RoundWish): RoundCentre | null => {
  const rim = best(rims.filter((r) => r.sign === 1 && r.outside >= PALE * wish.paper && r.share >= LEAST_SHARE.hole))
  if (rim === null) return null
  const cut = (mm: number): number => (mm * wish.perMm) ** 2 + (rim.u * patch.step) ** 2
  return roundCentre({ rim, own: cut(CUT_MM), rough: cut(ROUGHLY.cutMm), kind: 'hole', flush: 0 }, patch, map, wish)
}

const shaftOf = (rims: readonly Rim[], patch: Patch, map: PlaneMap, wish: RoundWish): RoundCentre | null => {
  const rim = bestRound(rims.filter((r) => r.outside < PALE * wish.paper && r.share >= LEAST_SHARE.shaft))
  if (rim === null) return null
  const own = (TRUE_MM * wish.perMm) ** 2 + patch.step ** 2 * (rim.u ** 2 + SHINE ** 2 + (HIDDEN * rim.radius * (1 - rim.share)) ** 2)
  return roundCentre({ rim, own, rough: own, kind: 'shaft', flush: FLUSH_MM }, patch, map, wish)
}

/**
 * The shaft's end, a motor's boss or a pointer's hub, and a hole in the paper, by their round edges near where the strokes aim.
 * What stands above the paper is believed less along the line of sight, as its height is not known.
 */
export const roundThings = (raster: Raster, map: PlaneMap, wish: RoundWish): RoundThings => {
  const { near, reach, radius, perMm } = wish
  const greatest = Math.min(MOST_SHARE * radius, SIZES_MM[1] * perMm)
  const patch = patchAround(raster, map, near, reach + 1.2 * greatest)
  const radii = [Math.max(2, (SIZES_MM[0] * perMm) / patch.step), greatest / patch.step] as const
  const away = ({ centre }: Rim): number => Math.hypot(centre[0] - (patch.size - 1) / 2, centre[1] - (patch.size - 1) / 2)
  const rims = rimsIn(patch, radii, reach / patch.step).filter((rim) => away(rim) * patch.step < reach)
  return { rims: rims.map((rim) => ({ centre: cellsToPlane(patch, rim.centre), radius: rim.radius * patch.step })), shaft: shaftOf(rims, patch, map, wish), hole: holeOf(rims, patch, map, wish) }
}
