import { erf } from './tables'

// A stroke's ink, 32 numbers to a stroke (../ink-numbers.ts writes and reads them). Places in bytes:
export const X = 0
export const Y = 8
export const UX = 16
export const UY = 24
export const HALF_LENGTH = 32
export const HALF_WIDTH = 40
export const SIGMA = 48
/** 1/(√2 sigma), per px. */
export const SCALE = 56
/** Beyond these its darkening is nothing, px. */
export const REACH_T = 64
export const REACH_S = 72
export const KNOTS = 80
/** Three numbers. */
export const BOW = 88
export const AMPLITUDES = 112
export const INK = 256

/** The centre line's offset at τ, px. */
export function asideOf(ink: usize, tau: f64): f64 {
  return load<f64>(ink, BOW) + load<f64>(ink, BOW + 8) * tau + load<f64>(ink, BOW + 16) * (1.5 * tau * tau - 0.5)
}

/** Amplitude at τ, linear between knots; the outermost go on beyond. */
export function amplitudeOf(ink: usize, tau: f64): f64 {
  const last = <i32>load<f64>(ink, KNOTS) - 1
  if (last <= 0) return load<f64>(ink, AMPLITUDES)
  const place = ((tau + 1) / 2) * <f64>last
  const knot = min(last - 1, <i32>Math.floor(place))
  const at = ink + AMPLITUDES + 8 * knot
  const low = load<f64>(at)
  return low + (place - <f64>knot) * (load<f64>(at, 8) - low)
}

/** Ink profile, 1 in the middle of a wide stroke. */
export function profileAt(s: f64, half: f64, scale: f64): f64 {
  return 0.5 * (erf((s + half) * scale) - erf((s - half) * scale))
}

/** Darkening that a stroke causes at a place, grey levels; its ends are blurred like its sides. */
function darkeningAt(ink: usize, px: f64, py: f64): f64 {
  const ux = load<f64>(ink, UX)
  const uy = load<f64>(ink, UY)
  const dx = px - load<f64>(ink, X)
  const dy = py - load<f64>(ink, Y)
  const t = dx * ux + dy * uy
  if (Math.abs(t) > load<f64>(ink, REACH_T)) return 0
  const halfLength = load<f64>(ink, HALF_LENGTH)
  const tau = Math.max(-1, Math.min(1, t / halfLength))
  const s = dy * ux - dx * uy - asideOf(ink, tau)
  if (Math.abs(s) > load<f64>(ink, REACH_S)) return 0
  const scale = load<f64>(ink, SCALE)
  return amplitudeOf(ink, tau) * profileAt(s, load<f64>(ink, HALF_WIDTH), scale) * profileAt(t, halfLength, scale)
}

/** A grey level with the darkening by several strokes added back. */
export function bared(grey: f64, inks: usize, count: i32, px: f64, py: f64): f64 {
  let sum = grey
  for (const end = inks + INK * count; inks < end; inks += INK) sum += darkeningAt(inks, px, py)
  return sum
}
