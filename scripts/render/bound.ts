import type { Ink } from './ink.ts'
import { type Sensor, toneOf } from './sensor.ts'

/** What the bound needs to know about a straight stroke in the picture. */
export interface StrokeInPicture {
  readonly ink: Ink
  readonly density: number
  readonly widthMm: number
  readonly lengthMm: number
  readonly pixelsPerMm: number
  /** Linear level of the paper around it (before exposure) and the photo's noise. */
  readonly paperLevel: number
  readonly sensor: Sensor
}

const LUMA = [0.299, 0.587, 0.114] as const
const SUB = 20

/** Grey profile across the stroke, SUB samples per pixel, ink edge, pixel aperture and blur included. */
const profile = (s: StrokeInPicture): Float64Array => {
  const blurPx = Math.sqrt(s.sensor.blurPx ** 2 + 1 / 12)
  const half = Math.ceil((s.widthMm / 2 + s.ink.edgeMm) * s.pixelsPerMm + 4 * blurPx + 2)
  const count = 2 * half * SUB + 1
  const grey = new Float64Array(count)
  LUMA.forEach((weight, c) => {
    const raw = Float64Array.from({ length: count }, (_, i) => {
      const d = Math.abs(i / SUB - half) / s.pixelsPerMm
      const inside = Math.max(0, Math.min(1, (s.widthMm / 2 + s.ink.edgeMm - d) / (2 * s.ink.edgeMm)))
      return s.paperLevel * Math.exp(-s.density * (s.ink.absorb[c] ?? 0) * inside * inside * (3 - 2 * inside))
    })
    smooth(raw, blurPx * SUB).forEach((v, i) => { grey[i] = (grey[i] ?? 0) + weight * toneOf(v * s.sensor.exposure, s.sensor.tone) })
  })
  return grey
}

const smooth = (values: Float64Array, sigma: number): Float64Array => {
  const reach = Math.ceil(4 * sigma)
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)))
  const total = kernel.reduce((a, b) => a + b, 0)
  return values.map((_, i) =>
    kernel.reduce((sum, k, j) => sum + (k / total) * (values[Math.max(0, Math.min(values.length - 1, i + j - reach))] ?? 0), 0))
}

/** Standard deviation of the grey noise at the level of the paper around the stroke, grey levels; 8-bit rounding (1/12) included. */
export const greyNoise = ({ paperLevel, sensor }: Pick<StrokeInPicture, 'paperLevel' | 'sensor'>): number => {
  const level = paperLevel * sensor.exposure
  const slope = (toneOf(level + 0.005, sensor.tone) - toneOf(level - 0.005, sensor.tone)) / 0.01
  const linear = Math.sqrt(sensor.shot * level + sensor.read ** 2)
  const mixed = Math.sqrt(LUMA.reduce((s, w) => s + w * w, 0))
  return Math.sqrt((linear * slope * mixed) ** 2 + sensor.flatNoise ** 2 + 1 / 12)
}

/**
 * Cramér–Rao bound on the sideways position of a straight stroke in white noise, mm.
 * The Fisher information is the sum over pixels of (dI/dx)²/σ²: the stroke's length in px times ∫ I'(x)² dx. Position does
 * not mix with contrast, width or direction about the stroke's middle, because the profile is even. Motion blur is left out.
 */
export const sidewaysBoundMm = (stroke: StrokeInPicture): number => {
  const grey = profile(stroke)
  let energy = 0
  for (let i = 1; i < grey.length; i++) energy += ((grey[i] ?? 0) - (grey[i - 1] ?? 0)) ** 2 * SUB
  const information = (energy * stroke.lengthMm * stroke.pixelsPerMm) / greyNoise(stroke) ** 2
  return 1 / Math.sqrt(information) / stroke.pixelsPerMm
}
