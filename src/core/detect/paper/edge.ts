import { lightOf } from '#core/detect/light'
import { medianOrZero } from '#core/numeric/median'
import { solveLinear } from '#core/numeric/solve-linear'
import type { Point, Raster } from '#core/detect/raster'
import { parabolaTop } from '#core/numeric/parabola-top'

/** A side of the paper as it was found in the full photo. */
export interface PaperEdge {
  /** Places where the paper ends, px, in order along the side. */
  readonly points: readonly Point[]
  /** Share of the places looked at where an edge lay on one common (slightly bowed) line. */
  readonly support: number
}

const PLACES = 90
/** Grey levels by which the picture must fall across the edge. */
const LEAST_FALL = 3
const INLIER_PX = 1.6
/** A fall of so many grey levels counts in full, however small others are. */
const FALL_COUNTS = 60

/** How far an edge of light lies from where the grey falls most, px: a fall in grey levels is steepest on the dark side. */
const WITHIN = 2

/** Whole numbers as they are, to be looked up like light. */
const GREYS = Float64Array.from({ length: 256 }, (_, grey) => grey)
const LIGHTS = GREYS.map((grey) => lightOf(grey / 255))

/** What `scale` makes of the four pixels about a place, mixed by how near they are. */
const valueAt = ({ width, height, grey }: Raster, x: number, y: number, scale: Float64Array): number => {
  if (x < 0 || y < 0 || x > width - 1.001 || y > height - 1.001) return Number.NaN
  const ix = Math.floor(x)
  const iy = Math.floor(y)
  const fx = x - ix
  const fy = y - iy
  const at = iy * width + ix
  const pixel = (i: number): number => scale[grey[i] as number] as number
  const top = pixel(at) * (1 - fx) + pixel(at + 1) * fx
  const bottom = pixel(at + width) * (1 - fx) + pixel(at + width + 1) * fx
  return top * (1 - fy) + bottom * fy
}

/** How much darker the `blur` places after each are than those before it, grey levels; NaN where there are not as many. */
const slopesOf = (profile: Float64Array, blur: number): Float64Array => {
  const slopes = new Float64Array(profile.length).fill(Number.NaN)
  for (let i = blur; i < profile.length - blur; i++) {
    let sum = 0
    for (let k = 1; k <= blur; k++) sum += (profile[i - k] as number) - (profile[i + k] as number)
    slopes[i] = sum / blur
  }
  return slopes
}

/** Signed offsets (outward positive) of the strongest brightness falls along a profile, strongest first, sub-pixel. */
const falls = (profile: Float64Array, blur: number): { readonly offset: number; readonly drop: number }[] => {
  const half = (profile.length - 1) / 2
  const slopes = slopesOf(profile, blur)
  const found: { readonly offset: number; readonly drop: number }[] = []
  for (let i = blur + 1; i < slopes.length - blur - 1; i++) {
    const a = slopes[i - 1] as number
    const b = slopes[i] as number
    const c = slopes[i + 1] as number
    if (!(b > a && b >= c && b > LEAST_FALL)) continue
    found.push({ offset: i - half + parabolaTop(a, b, c), drop: b })
  }
  return found.sort((p, q) => q.drop - p.drop).slice(0, 3)
}

/**
 * How much farther out than the place where grey falls most the edge itself lies, px: there the light is half that of both sides.
 * @param place on the edge, px
 */
const lightEdge = (raster: Raster, [x, y]: Point, [ox, oy]: Point, blur: number): number => {
  const half = 2 * blur + WITHIN + 1
  const light = Float64Array.from({ length: 2 * half + 1 }, (_, i) => valueAt(raster, x + (i - half) * ox, y + (i - half) * oy, LIGHTS))
  const slopes = slopesOf(light, blur)
  let best = half
  for (let i = half - WITHIN; i <= half + WITHIN; i++) if ((slopes[i] as number) > (slopes[best] as number)) best = i
  const [a, b, c] = [slopes[best - 1] as number, slopes[best] as number, slopes[best + 1] as number]
  return best - half + (b >= a && b >= c ? parabolaTop(a, b, c) : 0)
}

interface Hit {
  readonly t: number
  readonly s: number
  readonly drop: number
}

/** Hits side by side: where, how far aside, and how great a fall, each counting for no more than most places' greatest or FALL_COUNTS. */
interface HitRows {
  readonly t: Float64Array
  readonly s: Float64Array
  readonly drop: Float64Array
}

/** Falls of the hits that lie within `reach` of a line, added up. */
const companyOf = ({ t, s, drop }: HitRows, level: number, slope: number, reach: number): number => {
  let sum = 0
  for (let k = 0; k < t.length; k++) if (Math.abs((s[k] as number) - level - slope * (t[k] as number)) < reach) sum += drop[k] as number
  return sum
}

/** The greatest fall at most places: what a thing that lies on the side shows at a few counts no more than the paper's edge. */
const usualFall = (hits: readonly Hit[]): number => {
  const greatest = new Map<number, number>()
  for (const { t, drop } of hits) greatest.set(t, Math.max(drop, greatest.get(t) ?? 0))
  return medianOrZero([...greatest.values()])
}

/** Hits to draw lines from, and to draw them to. */
const STARTS = 45
const ENDS = 27

/** The bowed line s = a + b·t + c·t² most hits lie on: two hits tried at a time, the best pair's company polished. */
const agree = (hits: readonly Hit[], reach: number, tolerance: number): readonly Hit[] => {
  const t = Float64Array.from(hits, (h) => h.t)
  const s = Float64Array.from(hits, (h) => h.s)
  const cap = Math.max(FALL_COUNTS, usualFall(hits))
  const rows = { t, s, drop: Float64Array.from(hits, (h) => Math.min(h.drop, cap)) }
  let best: readonly [slope: number, level: number] = [0, 0]
  let most = 0
  const [every, other] = [Math.max(3, Math.round(hits.length / STARTS)), Math.max(5, Math.round(hits.length / ENDS))]
  for (let i = 0; i < hits.length; i += every) {
    for (let j = i + 7; j < hits.length; j += other) {
      const dt = (t[j] as number) - (t[i] as number)
      const slope = ((s[j] as number) - (s[i] as number)) / dt
      if (dt < 0.3 || Math.abs(slope) > reach) continue
      const level = (s[i] as number) - slope * (t[i] as number)
      const worth = companyOf(rows, level, slope, 2 * tolerance)
      if (worth > most) {
        most = worth
        best = [slope, level]
      }
    }
  }
  let kept = most === 0 ? [] : hits.filter((h) => Math.abs(h.s - best[1] - best[0] * h.t) < 2 * tolerance)
  for (let round = 0; round < 4 && kept.length >= 6; round++) {
    const curve = quadratic(kept)
    if (curve === null) break
    kept = hits.filter((h) => Math.abs(h.s - curve(h.t)) < tolerance)
  }
  return kept
}

const quadratic = (hits: readonly Hit[]): ((t: number) => number) | null => {
  const sums = Array.from({ length: 5 }, (_, n) => hits.reduce((sum, h) => sum + h.t ** n, 0))
  const curve = solveLinear([sums.slice(0, 3), sums.slice(1, 4), sums.slice(2, 5)], [0, 1, 2].map((n) => hits.reduce((sum, h) => sum + h.s * h.t ** n, 0)))
  if (curve === null) return null
  const [k0, k1, k2] = curve as [number, number, number]
  return (t) => k0 + k1 * t + k2 * t * t
}

/** How an edge is looked for. */
export interface EdgeSearch {
  /** How far to either side, px. */
  readonly reach: number
  /** At how many places along it. */
  readonly places?: number
}

/**
 * Looks across a roughly known side of the paper for the place where it ends, to a fraction of a px.
 * @param outward unit vector out of the paper
 */
export const traceEdge = (raster: Raster, [from, to]: readonly [Point, Point], outward: Point, { reach, places = PLACES }: EdgeSearch): PaperEdge => {
  const blur = Math.max(2, Math.round(Math.max(raster.width, raster.height) / 1200))
  const steps = Math.round(reach)
  const hits: Hit[] = []
  const profile = new Float64Array(2 * steps + 1)
  for (let n = 0; n < places; n++) {
    const t = 0.04 + (0.92 * (n + 0.5)) / places
    const x = from[0] + t * (to[0] - from[0])
    const y = from[1] + t * (to[1] - from[1])
    for (let i = 0; i < profile.length; i++) profile[i] = valueAt(raster, x + (i - steps) * outward[0], y + (i - steps) * outward[1], GREYS)
    for (const { offset, drop } of falls(profile, blur)) hits.push({ t, s: offset, drop })
  }
  const kept = agree(hits, reach, INLIER_PX * Math.max(1, blur / 2))
  const unique = new Map(kept.map((h) => [h.t, h]))
  const points = [...unique.values()]
    .sort((p, q) => p.t - q.t)
    .map(({ t, s }): Point => [from[0] + t * (to[0] - from[0]) + s * outward[0], from[1] + t * (to[1] - from[1]) + s * outward[1]])
    .map((place): Point => {
      const off = lightEdge(raster, place, outward, blur)
      return [place[0] + off * outward[0], place[1] + off * outward[1]]
    })
  return { points, support: points.length / places }
}
