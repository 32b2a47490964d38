import { greyAt } from '#core/detect/grey-at'
import { type EllipseShape, ellipsePointAt } from '#core/numeric/ellipse'
import type { Point, Raster } from '#core/detect/raster'
import { median } from '#core/numeric/median'
import type { CurveKind } from './polar-features.ts'

/** Samples per px across the curve. */
const FINE = 3

/** Middle of the dark dip nearest the profile's own middle, by the darkness of what is darker than a quarter of it; in samples. */
const dipAt = (profile: readonly number[], paper: number): number => {
  const half = profile.length >> 1
  let lowest = half
  for (let k = half - (half >> 1); k <= half + (half >> 1); k++) if ((profile[k] as number) < (profile[lowest] as number)) lowest = k
  const depth = paper - (profile[lowest] as number)
  if (!(depth > 4)) return Number.NaN
  let [sum, total] = [0, 0]
  for (const step of [-1, 1]) {
    for (let k = step < 0 ? lowest : lowest + 1; k >= 0 && k < profile.length; k += step) {
      const weight = paper - (profile[k] as number) - depth / 4
      if (!(weight > 0)) break
      sum += weight * k
      total += weight
    }
  }
  return sum / total
}

/** Where the profile passes half-way between its ends, nearest its middle; in samples. */
const stepAt = (profile: readonly number[]): number => {
  const ends = Math.max(2, Math.floor(profile.length / 5))
  const [inner, outer] = [median(profile.slice(0, ends)), median(profile.slice(-ends))]
  const level = (inner + outer) / 2
  let best = Number.NaN
  if (!(Math.abs(outer - inner) > 8)) return best
  for (let k = 1; k < profile.length; k++) {
    const [a, b] = [profile[k - 1] as number, profile[k] as number]
    if ((a - level) * (b - level) > 0 || Math.sign(b - a) !== Math.sign(outer - inner)) continue
    const at = k - 1 + (level - a) / (b - a)
    if (!(Math.abs(at - profile.length / 2) >= Math.abs(best - profile.length / 2))) best = at
  }
  return best
}

/**
 * Places of a curve in the photo to a fraction of a px, at even steps round an ellipse that is nearly it.
 * @param reach how far to either side of the ellipse to look, px
 */
export const placeCurve = (raster: Raster, ellipse: EllipseShape, kind: CurveKind, { reach, count }: { readonly reach: number; readonly count: number }): Point[] =>
  Array.from({ length: count }, (_, n) => (2 * Math.PI * n) / count).flatMap((t) => {
    const [x, y] = ellipsePointAt(ellipse, t)
    const [rx, ry] = [x - ellipse.centre[0], y - ellipse.centre[1]]
    const radius = Math.hypot(rx, ry)
    const at = (s: number): Point => [x + (s * rx) / radius, y + (s * ry) / radius]
    const half = Math.ceil(reach * FINE)
    const profile = Array.from({ length: 2 * half + 1 }, (__, k) => greyAt(raster, at((k - half) / FINE)))
    if (profile.some(Number.isNaN)) return []
    const ends = [...profile.slice(0, FINE), ...profile.slice(-FINE)]
    const place = kind === 'line' ? dipAt(profile, median(ends)) : stepAt(profile)
    return Number.isFinite(place) ? [at((place - half) / FINE)] : []
  })
