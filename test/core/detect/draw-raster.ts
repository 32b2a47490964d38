import type { Point, Raster } from '#core/detect/raster'
import { erf } from '#core/numeric/error-function'

/** A straight stroke of even ink, px; bearings counter-clockwise as seen. */
export interface DrawnStroke {
  readonly from: Point
  readonly to: Point
  readonly width: number
  /** Darkening, grey levels. */
  readonly dark: number
}

/** Numbers in [0, 1) from a seed (mulberry32, public domain). */
export const seededRandom = (seed: number): (() => number) => {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

export const normal = (random: () => number): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())

/** A stroke along a bearing about a centre. */
export const radial = (centre: Point, bearingDeg: number, [inner, outer]: readonly [number, number], width = 3, dark = 120): DrawnStroke => {
  const a = (bearingDeg * Math.PI) / 180
  const at = (r: number): Point => [centre[0] + r * Math.cos(a), centre[1] - r * Math.sin(a)]
  return { from: at(inner), to: at(outer), width, dark }
}

/**
 * Pixel-exact drawing: each stroke a band of even ink blurred by a Gaussian, taken from a level ground, with white noise (simulated).
 * What is taken is grey levels; with a `gamma` it is light, of which grey levels are the 1/gamma-th power: as in a photo, exact for
 * strokes beside each other.
 */
export const drawRaster = (
  [width, height]: readonly [number, number],
  strokes: readonly DrawnStroke[],
  { ground = 210, blur = 1, noise = 0, seed = 1, gamma = 1 }: { readonly ground?: number | ((x: number, y: number) => number); readonly blur?: number; readonly noise?: number; readonly seed?: number; readonly gamma?: number } = {},
): Raster => {
  const paper = Float64Array.from({ length: width * height }, (_, i) => (typeof ground === 'number' ? ground : ground(i % width, Math.floor(i / width))))
  const left = paper.map((p) => p ** gamma)
  const step = (d: number): number => 0.5 * (1 + erf(d / (Math.SQRT2 * blur)))
  for (const { from, to, width: w, dark } of strokes) {
    const length = Math.hypot(to[0] - from[0], to[1] - from[1])
    const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
    const reach = w / 2 + 5 * blur
    for (let y = Math.max(0, Math.floor(Math.min(from[1], to[1]) - reach)); y <= Math.min(height - 1, Math.max(from[1], to[1]) + reach); y++) {
      for (let x = Math.max(0, Math.floor(Math.min(from[0], to[0]) - reach)); x <= Math.min(width - 1, Math.max(from[0], to[0]) + reach); x++) {
        const t = (x - from[0]) * ux + (y - from[1]) * uy
        const s = (y - from[1]) * ux - (x - from[0]) * uy
        if (t < -reach || t > length + reach || Math.abs(s) > reach) continue
        const i = y * width + x
        const p = paper[i] as number
        left[i] = (left[i] as number) - (p ** gamma - Math.max(0, p - dark) ** gamma) * (step(s + w / 2) - step(s - w / 2)) * (step(t) - step(t - length))
      }
    }
  }
  const random = seededRandom(seed)
  return { width, height, grey: Uint8Array.from(left, (v) => Math.max(0, Math.min(255, Math.round(Math.max(0, v) ** (1 / gamma) + (noise > 0 ? noise * normal(random) : 0))))) }
}
