import { mean } from '#core/numeric/moments'
import { solveNormal, twoWaves } from '#core/numeric/normal-equations'
import type { Curve } from './link-curves.ts'
import { type CurveKind, type Feature, rayAngle, RAYS } from './polar-features.ts'
import { robustSpread } from '#core/numeric/median'

/** A circle's image in polar form about a point inside: 1/radius = Σ terms·(1, cos θ, sin θ, cos 2θ, sin 2θ), per px, to the square of its flattening. */
export type PolarCurve = readonly number[]

const WAVES = Array.from({ length: RAYS }, (_, ray) => twoWaves(rayAngle(ray)))

const radiusAt = (curve: PolarCurve, ray: number): number => {
  const row = WAVES[ray] as readonly number[]
  let inverse = 0
  for (let i = 0; i < row.length; i++) inverse += (row[i] as number) * (curve[i] as number)
  return 1 / inverse
}

/** What the waves of a circle seen by a usual camera amount to, in units of the first term: keeps short arcs from bending wildly. */
const USUAL_WAVES = 0.12
/** Spread of 1/radius along one true curve, in units of itself, that the above is weighed against. */
const TRUE = 0.003

const fitCurve = (features: readonly Feature[]): PolarCurve | null => {
  const scale = mean(features.map((f) => f.radius))
  const rows = features.map((f) => WAVES[f.ray] as readonly number[])
  return solveNormal(rows, features.map((f) => scale / f.radius), features.map(() => 1), (TRUE / USUAL_WAVES) ** 2)?.map((v) => v / scale) ?? null
}

/** Features within `tolerance` of the curve, as a share of its radius; the nearest one of each ray. */
const along = (curve: PolarCurve, features: readonly Feature[], tolerance: number): Feature[] => {
  const radii = WAVES.map((_, ray) => radiusAt(curve, ray))
  const off = new Float64Array(RAYS).fill(tolerance)
  const best: (Feature | undefined)[] = new Array<undefined>(RAYS).fill(undefined)
  for (const feature of features) {
    const d = Math.abs(feature.radius / (radii[feature.ray] as number) - 1)
    if (d >= (off[feature.ray] as number)) continue
    off[feature.ray] = d
    best[feature.ray] = feature
  }
  return best.filter((f) => f !== undefined)
}

export interface ChosenCurve {
  readonly kind: CurveKind
  readonly curve: PolarCurve
  readonly features: readonly Feature[]
  /** Share of the turn that shows it, what is between two sights of it not far apart included. */
  readonly share: number
  /** Share, less where its features scatter about it. */
  readonly worth: number
}

/** Rays between two sights of a curve that count as showing it: marks may hide it there. */
const BETWEEN = 16

const shareOf = (features: readonly Feature[]): number => {
  const rays = features.map((f) => f.ray).sort((a, b) => a - b)
  return rays.reduce((sum, ray, i) => {
    const gap = (rays[i + 1] ?? (rays[0] as number) + RAYS) - ray
    return sum + (gap <= BETWEEN ? gap : 1)
  }, 0) / RAYS
}

/** Curves that are tried alone, and in twos and threes. */
const MOST_ALONE = 30
const MOST_TOGETHER = 7
const TOLERANCES = [0.02, 0.012, 0.007] as const

/** Scatter about a curve that halves its worth, px of the reduced picture. */
const HALVES = 0.5

const scatterOf = (curve: PolarCurve, features: readonly Feature[]): number => robustSpread(features.map((f) => f.radius - radiusAt(curve, f.ray)))

const grow = (seeds: readonly Curve[], features: readonly Feature[], pixel: number): ChosenCurve | null => {
  let taken: readonly Feature[] = seeds.flat()
  let curve = fitCurve(taken)
  for (const tolerance of TOLERANCES) {
    if (curve === null) return null
    taken = along(curve, features, tolerance)
    curve = taken.length < 12 ? null : fitCurve(taken)
  }
  const kind = seeds[0]?.[0]?.kind
  if (curve === null || kind === undefined) return null
  const share = shareOf(taken)
  return { kind, curve, features: taken, share, worth: share / (1 + (scatterOf(curve, taken) / (HALVES * pixel)) ** 2) }
}

/** Curves of a kind that are looked at closely. */
const MOST_KEPT = 6

/** Do two curves run within 2 % of each other all the way round? */
const same = (one: ChosenCurve, other: ChosenCurve): boolean =>
  [0, 90, 180, 270, 360, 450, 540, 630].every((ray) => Math.abs(radiusAt(one.curve, ray) / radiusAt(other.curve, ray) - 1) < 0.02)

/** Many alone; the longest two and three at a time too. */
const groupsOf = (curves: readonly Curve[]): Curve[][] => {
  const longest = curves.slice(0, MOST_TOGETHER)
  const together = longest.flatMap((a, i) => longest.slice(i + 1).flatMap((b, j) => [[a, b], ...longest.slice(i + j + 2).map((c) => [a, b, c])]))
  return [...curves.slice(0, MOST_ALONE).map((c) => [c]), ...together]
}

/**
 * The curves of one kind that may be circles about the centre, seen aslant: up to six, those that show on most of the turn and scatter
 * least first. Grown from every one of the longer unbroken pieces, and from two or three of the longest together.
 * @param pixel px of the photo per px of the reduced picture that the curves were found in
 */
export const chooseCurves = (curves: readonly Curve[], kind: CurveKind, pixel: number): ChosenCurve[] => {
  const own = curves.filter((c) => c[0]?.kind === kind)
  const features = own.flat()
  const found = groupsOf(own).flatMap((seeds) => grow(seeds, features, pixel) ?? []).sort((a, b) => b.worth - a.worth)
  const kept: ChosenCurve[] = []
  for (const one of found) if (kept.length < MOST_KEPT && !kept.some((other) => same(one, other))) kept.push(one)
  return kept
}
