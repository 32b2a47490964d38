import { type Feature, RAYS } from './polar-features.ts'

/** Features of one kind on following rays, in order. */
export type Curve = readonly Feature[]

/** Rays that may show nothing though nothing hides it. */
const GAP = 4
/** Rays at most from one sight of it to the next, hidden ones and all: between two marks that stand far apart. */
const REACH = 24
/** Steepest run inward or outward, as a share of the way round: a circle seen at 45°. */
const STEEPEST = 0.35
/** Fewer features than this are a digit, a stain or a mark's end. */
const LEAST = 8
/** Share of the rays where nothing hides a curve that show it. */
const FILLED = 0.6

/** Where a curve would show if it were there: not under a mark. */
export type Shows = (ray: number, radius: number) => boolean

interface Next {
  readonly feature: Feature
  /** Rays passed over that would have shown it. */
  readonly missing: number
}

const nextOf = (from: Feature, features: readonly (readonly Feature[])[], used: ReadonlySet<Feature>, { slack, shows }: Options): Next | null => {
  let missing = 0
  for (let ahead = 1; ahead <= REACH && missing < GAP; ahead++) {
    const ray = (from.ray + ahead) % RAYS
    const reach = slack + STEEPEST * from.radius * ((2 * Math.PI * ahead) / RAYS)
    let best: Feature | null = null
    for (const next of features[ray] ?? []) {
      if (next.kind !== from.kind || used.has(next) || Math.abs(next.radius - from.radius) > reach) continue
      if (best === null || Math.abs(next.radius - from.radius) < Math.abs(best.radius - from.radius)) best = next
    }
    if (best !== null) return { feature: best, missing }
    if (shows(ray, from.radius)) missing++
  }
  return null
}

interface Options {
  /** How far neighbouring rays may disagree for noise alone, px. */
  readonly slack: number
  readonly shows: Shows
}

/** Joins features into curves that run round the centre without a break but for what hides them, longest first. */
export const linkCurves = (features: readonly (readonly Feature[])[], options: Options): Curve[] => {
  const used = new Set<Feature>()
  const curves: Curve[] = []
  for (const start of features.flat()) {
    if (used.has(start)) continue
    const curve = [start]
    let missed = 0
    used.add(start)
    for (let next = nextOf(start, features, used, options); next !== null; next = nextOf(next.feature, features, used, options)) {
      used.add(next.feature)
      missed += next.missing
      curve.push(next.feature)
    }
    if (curve.length >= LEAST && curve.length > FILLED * (curve.length + missed)) curves.push(curve)
  }
  return curves.sort((a, b) => b.length - a.length)
}
