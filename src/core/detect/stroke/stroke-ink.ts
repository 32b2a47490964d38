import { profileAt, type StrokeModel } from './stroke-model.ts'

/** A stroke laid out for inner loops: numbers of one kind in one order, whatever made the stroke, so that one compiled loop serves all. */
export interface StrokeInk {
  readonly x: number
  readonly y: number
  readonly ux: number
  readonly uy: number
  readonly halfLength: number
  readonly halfWidth: number
  /** 1/(√2 sigma), per px. */
  readonly scale: number
  /** Beyond these its darkening is nothing, px. */
  readonly reachT: number
  readonly reachS: number
  /** Bow ×3, then the amplitudes. */
  readonly shape: Float64Array
}

export const inkOf = ({ middle, along, halfLength, halfWidth, sigma, bow, amplitudes }: StrokeModel): StrokeInk => {
  const shape = new Float64Array(3 + amplitudes.length)
  shape.set(bow)
  shape.set(amplitudes, 3)
  const [x, y] = middle
  const [ux, uy] = along
  return { x, y, ux, uy, halfLength, halfWidth, scale: Math.SQRT1_2 / sigma, reachT: halfLength + 3 * sigma, reachS: halfWidth + 4 * sigma, shape }
}

/** The centre line's offset at τ, px. */
export const asideOf = (shape: Float64Array, tau: number): number => (shape[0] as number) + (shape[1] as number) * tau + (shape[2] as number) * (1.5 * tau * tau - 0.5)

/** Amplitude at τ, linear between knots; the outermost go on beyond. */
export const amplitudeOf = (shape: Float64Array, tau: number): number => {
  const last = shape.length - 4
  if (last <= 0) return shape[3] ?? 0
  const place = ((tau + 1) / 2) * last
  const knot = Math.min(last - 1, Math.floor(place))
  const low = shape[3 + knot] as number
  return low + (place - knot) * ((shape[4 + knot] as number) - low)
}

/** Darkening that a stroke causes at a pixel, grey levels; its ends are blurred like its sides. */
export const darkeningAt = (ink: StrokeInk, px: number, py: number): number => {
  const { ux, uy, halfLength, halfWidth, scale, shape } = ink
  const dx = px - ink.x
  const dy = py - ink.y
  const t = dx * ux + dy * uy
  if (Math.abs(t) > ink.reachT) return 0
  const tau = Math.max(-1, Math.min(1, t / halfLength))
  const s = dy * ux - dx * uy - asideOf(shape, tau)
  if (Math.abs(s) > ink.reachS) return 0
  return amplitudeOf(shape, tau) * profileAt(s, halfWidth, scale) * profileAt(t, halfLength, scale)
}
