import { quickErf } from '#core/numeric/error-function'
import type { Point } from '#core/detect/raster'

/**
 * A pen stroke as it lies in the photo: a band of even ink of width 2·halfWidth, blurred by sigma, along a line that may
 * lean and bow a little. Frame: `t` px along from the middle, `s` px aside (along turned by +90° in x right, y down).
 */
export interface StrokeModel {
  readonly middle: Point
  readonly along: Point
  /** Ink runs over −halfLength ≤ t ≤ halfLength. */
  readonly halfLength: number
  /** Centre line s = bow[0] + bow[1]·τ + bow[2]·(3τ² − 1)/2 with τ = t/halfLength. */
  readonly bow: readonly [number, number, number]
  readonly halfWidth: number
  readonly sigma: number
  /** Darkening in grey levels at evenly spaced knots over τ = −1 … 1. */
  readonly amplitudes: readonly number[]
}

/** Ink profile, 1 in the middle of a wide stroke: ½[erf((s+h)·scale) − erf((s−h)·scale)] with scale 1/(√2σ). */
export const profileAt = (s: number, halfWidth: number, scale: number): number => 0.5 * (quickErf((s + halfWidth) * scale) - quickErf((s - halfWidth) * scale))

/** The same by the blur itself. */
export const inkProfile = (s: number, halfWidth: number, sigma: number): number => profileAt(s, halfWidth, Math.SQRT1_2 / sigma)

/** Width of a blurred stroke at three tenths of its depth, px: within 5 % for ink from much narrower to much wider than the blur. */
export const seenWidth = ({ halfWidth, sigma }: Pick<StrokeModel, 'halfWidth' | 'sigma'>): number => Math.hypot(2 * halfWidth, 3.1 * sigma)

/** Centre line's offset at τ. */
export const bowAt = ({ bow }: Pick<StrokeModel, 'bow'>, tau: number): number => bow[0] + bow[1] * tau + bow[2] * (1.5 * tau * tau - 0.5)

/** Amplitude at τ, linear between knots. */
export const amplitudeAt = (amplitudes: readonly number[], tau: number): number => {
  const last = amplitudes.length - 1
  if (last <= 0) return amplitudes[0] ?? 0
  const place = Math.min(last, Math.max(0, ((tau + 1) / 2) * last))
  const knot = Math.min(last - 1, Math.floor(place))
  const low = amplitudes[knot] as number
  return low + (place - knot) * ((amplitudes[knot + 1] as number) - low)
}

/** Mean of the amplitudes at the knots, grey levels. */
export const meanAmplitude = ({ amplitudes }: Pick<StrokeModel, 'amplitudes'>): number => amplitudes.reduce((sum, a) => sum + a, 0) / amplitudes.length

/** How dark a stroke is in its middle as it is seen, blur and all, grey levels. */
export const peakDarkness = (model: Pick<StrokeModel, 'halfWidth' | 'sigma' | 'amplitudes'>): number => meanAmplitude(model) * inkProfile(0, model.halfWidth, model.sigma)

/** Ink per length, grey levels × px (half): what does not change when blur and width trade places. */
export const inkPerLength = (model: Pick<StrokeModel, 'halfWidth' | 'amplitudes'>): number => model.halfWidth * meanAmplitude(model)

/** Both ends of the centre line, px of the photo. */
export const endsOf = (model: StrokeModel): { readonly p0: Point; readonly p1: Point } => ({ p0: centreLineAt(model, -1), p1: centreLineAt(model, 1) })

/** The end, as τ, that lies away from a place in the photo, px. */
export const endAwayFrom = ({ middle, along }: Pick<StrokeModel, 'middle' | 'along'>, [x, y]: Point): -1 | 1 =>
  (middle[0] - x) * along[0] + (middle[1] - y) * along[1] > 0 ? 1 : -1

/** A straight stroke from one point of the photo to another. */
export const strokeBetween = (a: Point, b: Point, drawn: Pick<StrokeModel, 'halfWidth' | 'sigma' | 'amplitudes'>): StrokeModel => {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  return {
    middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
    along: [(b[0] - a[0]) / length, (b[1] - a[1]) / length],
    halfLength: length / 2,
    bow: [0, 0, 0],
    ...drawn,
  }
}

/** Point of the centre line at τ, px of the photo. */
export const centreLineAt = (model: StrokeModel, tau: number): Point => {
  const t = tau * model.halfLength
  const s = bowAt(model, tau)
  return [model.middle[0] + t * model.along[0] - s * model.along[1], model.middle[1] + t * model.along[1] + s * model.along[0]]
}

/** Place `aside` px of the centre line at τ; beyond its ends a bowed stroke is carried on straight. */
export const besideLineAt = (model: StrokeModel, tau: number, aside: number): Point => {
  const [ux, uy] = model.along
  const edge = Math.max(-1, Math.min(1, tau))
  const t = tau * model.halfLength
  const s = bowAt(model, edge) + (tau - edge) * (model.bow[1] + 3 * model.bow[2] * edge) + aside
  return [model.middle[0] + t * ux - s * uy, model.middle[1] + t * uy + s * ux]
}
