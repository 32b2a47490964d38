import { type Feature, RAYS } from './polar-features.ts'

/** Features of one kind on following rays, in order. */
export type Curve = readonly Feature[]

/** Rays that may show nothing, as where a mark crosses. */
const GAP = 4
/** Steepest run inward or outward, as a share of the way round: a circle seen at 45°. */
const STEEPEST = 0.35
/** Fewer features than this are a digit, a stain or a mark's end. */
const LEAST = 12
/** Share of a curve's rays that show it. */
const FILLED = 0.6

const nextOf = (from: Feature, features: readonly (readonly Feature[])[], used: ReadonlySet<Feature>, slack: number): Feature | null => {
  for (let ahead = 1; ahead <= GAP; ahead++) {
    const reach = slack + STEEPEST * from.radius * ((2 * Math.PI * ahead) / RAYS)
    let best: Feature | null = null
    for (const next of features[(from.ray + ahead) % RAYS] ?? []) {
      if (next.kind !== from.kind || used.has(next) || Math.abs(next.radius - from.radius) > reach) continue
      if (best === null || Math.abs(next.radius - from.radius) < Math.abs(best.radius - from.radius)) best = next
    }
    if (best !== null) return best
  }
  return null
}

/**
 * Joins features into curves that run round the centre without a break, longest first.
 * @param slack how far neighbouring rays may disagree for noise alone, px
 */
export const linkCurves = (features: readonly (readonly Feature[])[], slack: number): Curve[] => {
  const used = new Set<Feature>()
  const curves: Curve[] = []
  for (const start of features.flat()) {
    if (used.has(start)) continue
    const curve = [start]
    used.add(start)
    for (let next = nextOf(start, features, used, slack); next !== null; next = nextOf(next, features, used, slack)) {
      used.add(next)
      curve.push(next)
    }
    const extent = ((((curve.at(-1)?.ray ?? 0) - start.ray) % RAYS) + RAYS) % RAYS
    if (curve.length >= LEAST && (curve.length >= RAYS * FILLED || curve.length > FILLED * extent)) curves.push(curve)
  }
  return curves.sort((a, b) => b.length - a.length)
}
