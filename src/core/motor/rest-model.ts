/**
 * The two-phase motor at rest, torques in units of the holding torque, angles x and φ electrical:
 *
 *   T(x) = −k_A (i_A + o_A) sin x + k_B (i_B + o_B) cos x + d₂ sin(2x + ψ₂) + d₄ sin(4x + ψ₄),
 *
 * with the commanded current (i_A, i_B) = (cos φ, sin φ), k_A = 1 − ε/2 and k_B = 1 + ε/2, so that an imbalance ε alone
 * moves the shaft by about (ε/2) sin 2φ. The shaft creeps until |T| ≤ f and stays there until |T| > f again.
 */
export interface RestModel {
  /** S, full steps per shaft revolution. */
  readonly stepsPerRev: number
  /** N, commanded microsteps per full step. */
  readonly microsteps: number
  /** d₂, ψ₂ in degrees of the electrical cycle's second order. */
  readonly detent2: number
  readonly detent2PhaseDeg: number
  /** d₄, ψ₄ in degrees of the electrical cycle's fourth order. */
  readonly detent4: number
  readonly detent4PhaseDeg: number
  /** ε = k_B − k_A, the phases' difference relative to their mean. */
  readonly imbalance: number
  /** o_A, o_B in units of phase current. */
  readonly offsetA: number
  readonly offsetB: number
  /** f, dry friction. */
  readonly friction: number
  /** Electrical angle φ of command 0, degrees. */
  readonly startPhaseDeg: number
}

/** A motor without any fault: every microstep is even and none is lost. */
export const evenMotor = (stepsPerRev: number, microsteps: number): RestModel => ({
  stepsPerRev,
  microsteps,
  detent2: 0,
  detent2PhaseDeg: 0,
  detent4: 0,
  detent4PhaseDeg: 0,
  imbalance: 0,
  offsetA: 0,
  offsetB: 0,
  friction: 0,
  startPhaseDeg: 0,
})
