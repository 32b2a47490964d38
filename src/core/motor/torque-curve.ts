/**
 * Static torque over the electrical angle x at one command, units of holding torque:
 * T(x) = cos1·cos x + sin1·sin x + cos2·cos 2x + sin2·sin 2x + cos4·cos 4x + sin4·sin 4x.
 * Mutable on purpose: a run changes the first order at every command and keeps the rest.
 */
export interface TorqueCurve {
  cos1: number
  sin1: number
  cos2: number
  sin2: number
  cos4: number
  sin4: number
}

/** dT/dx at x (rad), per radian; negative where the shaft is held. */
export const torqueSlopeAt = (curve: TorqueCurve, x: number): number => {
  const c = Math.cos(x)
  const s = Math.sin(x)
  const c2 = c * c - s * s
  const s2 = 2 * s * c
  const order4 = 4 * (curve.sin4 * (c2 * c2 - s2 * s2) - curve.cos4 * 2 * s2 * c2)
  return curve.sin1 * c - curve.cos1 * s + 2 * (curve.sin2 * c2 - curve.cos2 * s2) + order4
}
