import { fitCircleKasa } from '#core/numeric/fit-circle'
import { median } from '#core/numeric/median'
import { nthSmallest } from '#core/numeric/nth-smallest'
import type { Point } from '#core/detect/raster'
import { cellAt, type Patch } from './patch.ts'
import { parabolaTop } from '#core/numeric/parabola-top'

/** A round edge, cells of its patch. */
export interface Rim {
  readonly centre: Point
  readonly radius: number
  /** 1: brighter outside. */
  readonly sign: 1 | -1
  /** Standard uncertainty of the centre along each axis, as far as the edge's places scatter. */
  readonly u: number
  /** Scatter of the edge's places about the circle, cells. */
  readonly rms: number
  /** Share of the turn that shows it. */
  readonly share: number
  /** Brightness change across it, grey levels. */
  readonly height: number
  /** Brightness a little further out, middle over the turn. */
  readonly outside: number
}

const RAYS = 72
const ANGLES = Array.from({ length: RAYS }, (_, i) => (2 * Math.PI * i) / RAYS)
/** Samples per cell along a ray. */
const FINE = 2
/** Cells over which the slope is taken, to either side. */
const REACH = 1
/** A rim's slope stands out from the middling one along its rays by this factor, and by so many grey levels over two cells. */
const STANDS_OUT = 4
const LEAST_HEIGHT = 8
/** Least share of the turn that must show it. */
const LEAST_SHARE = 0.6
/** Places scatter about a true circle by no more than this, cells and share of its radius. */
const OFF = 0.25
const OFF_SHARE = 0.02
/** Times the places near the circle are chosen anew. */
const REFITS = 3

/** Brightness along each ray from a place outward. */
const profilesFrom = (patch: Patch, [x, y]: Point, reach: number): Float64Array[] =>
  ANGLES.map((t) => Float64Array.from({ length: Math.ceil(reach * FINE) }, (_, k) => cellAt(patch, x + (k / FINE) * Math.cos(t), y + (k / FINE) * Math.sin(t))))

const slopeAt = (profile: Float64Array, k: number): number => (profile[k + REACH * FINE] as number) - (profile[k - REACH * FINE] as number)

/** Radii (samples) at which most rays rise, or most fall, more than anywhere near. */
const commonSlopes = (profiles: readonly Float64Array[], least: number): { readonly at: number; readonly sign: 1 | -1; readonly height: number }[] => {
  const length = profiles[0]?.length ?? 0
  const middle = Array.from({ length }, (_, k) => (k < REACH * FINE || k >= length - REACH * FINE ? 0 : nthSmallest(Float64Array.from(profiles, (p) => slopeAt(p, k) || 0), RAYS >> 1)))
  const usual = median(middle.map(Math.abs))
  const found: { at: number; sign: 1 | -1; height: number }[] = []
  for (let k = Math.max(REACH * FINE, Math.floor(least * FINE)); k < length - REACH * FINE; k++) {
    const v = middle[k] as number
    const near = [-3, -2, -1, 1, 2, 3].map((d) => (middle[k + d] ?? 0) * Math.sign(v))
    if (Math.abs(v) < Math.max(LEAST_HEIGHT, STANDS_OUT * usual) || near.some((n, i) => (i < 3 ? n >= Math.abs(v) : n > Math.abs(v)))) continue
    found.push({ at: k, sign: v > 0 ? 1 : -1, height: Math.abs(v) })
  }
  return found
}

/** Place (cells from the ray's start) of the steepest slope of the wanted sign near `at`; NaN where there is none to speak of. */
const edgeOn = (profile: Float64Array, at: number, sign: 1 | -1, { window, height }: { readonly window: number; readonly height: number }): number => {
  let best = -1
  let most = 0.3 * height
  for (let k = Math.max(REACH * FINE + 1, at - window); k <= Math.min(profile.length - REACH * FINE - 2, at + window); k++) {
    const v = sign * slopeAt(profile, k)
    if (v > most) {
      most = v
      best = k
    }
  }
  if (best < 0) return Number.NaN
  const top = parabolaTop(sign * slopeAt(profile, best - 1), most, sign * slopeAt(profile, best + 1))
  return (best + Math.max(-1, Math.min(1, top))) / FINE
}

const placesOn = (profiles: readonly Float64Array[], [x, y]: Point, slope: ReturnType<typeof commonSlopes>[number]): Point[] => {
  const window = Math.ceil(Math.max(2 * FINE, Math.min(0.25 * slope.at, 6 * FINE)))
  return profiles.flatMap((profile, i): Point[] => {
    const r = edgeOn(profile, slope.at, slope.sign, { window, height: slope.height })
    const t = ANGLES[i] as number
    return Number.isFinite(r) ? [[x + r * Math.cos(t), y + r * Math.sin(t)]] : []
  })
}

type Fitted = Pick<Rim, 'centre' | 'radius' | 'u' | 'rms' | 'share'>

/** The circle that most of the places lie on: with most of the turn in sight the quick linear fit does. */
const circleOf = (places: readonly Point[]): Fitted | null => {
  let kept = places
  for (let round = 0; ; round++) {
    const circle = kept.length < LEAST_SHARE * RAYS ? null : fitCircleKasa(kept)
    if (circle === null) return null
    const { centre, radius } = circle
    const off = (p: Point): number => Math.abs(Math.hypot(p[0] - centre[0], p[1] - centre[1]) - radius)
    if (round === REFITS) {
      const rms = Math.sqrt(kept.reduce((sum, p) => sum + off(p) ** 2, 0) / kept.length)
      // Rays closer than a few cells at the rim see the same edge.
      const independent = Math.min(kept.length, 2 * Math.PI * radius * (kept.length / RAYS)) / 3
      return rms > OFF + OFF_SHARE * radius ? null : { centre, radius, rms, u: Math.max(rms, 0.1) * Math.sqrt(2 / independent), share: kept.length / RAYS }
    }
    const limit = Math.max(3 * median(kept.map(off)), 0.25)
    kept = places.filter((p) => off(p) < limit)
  }
}

/**
 * Round edges about a place, each fitted with its own circle.
 * @param about cells
 * @param radii least and greatest, cells
 */
export const rimsAbout = (patch: Patch, about: Point, [least, greatest]: readonly [number, number]): Rim[] => {
  const profiles = profilesFrom(patch, about, greatest + 6)
  return commonSlopes(profiles, least).flatMap((slope): Rim[] => {
    const circle = circleOf(placesOn(profiles, about, slope))
    if (circle === null || circle.radius < least || circle.radius > greatest) return []
    const outside = median(profiles.map((p) => p[Math.min(p.length - 1, slope.at + 3 * FINE)] as number))
    return [{ ...circle, sign: slope.sign, height: slope.height, outside }]
  })
}
