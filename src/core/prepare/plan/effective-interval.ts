/** What a trace is expected to say about the effective count. Angles deg at the motor's shaft. */
export interface EffectiveOutlook {
  readonly value: number
  /** Standard uncertainty of the count from the marks' noise. */
  readonly u: number
  readonly low: number
  readonly high: number
}

interface Trace {
  readonly microsteps: number
  /** Full step, deg. */
  readonly stepDeg: number
  /** Mark by mark standard uncertainty, deg. */
  readonly uDeg: number
  /** True position error of the motor, rms, deg. */
  readonly sigmaDeg: number
  readonly marks: number
}

const z95 = 1.959964

/**
 * Effective count N/√(1 + 12σ²/δ²) that a motor of error σ is expected to show, and how far the marks' noise spreads it: with
 * normal noise u, mean e² − u² over n marks has variance (4u²σ² + 2u⁴)/n, carried through the derivative
 * dN_eff/dσ² = −6·N_eff³/(N²δ²). Interval ± 1.96 u. First order: honest while u(σ²) stays below about half of δ²/12 + σ².
 */
export const effectiveOutlook = ({ microsteps, stepDeg, uDeg, sigmaDeg, marks }: Trace): EffectiveOutlook => {
  const delta = stepDeg / microsteps
  const value = microsteps / Math.sqrt(1 + (12 * sigmaDeg ** 2) / delta ** 2)
  const uVariance = Math.sqrt((4 * uDeg ** 2 * sigmaDeg ** 2 + 2 * uDeg ** 4) / marks)
  const u = ((6 * value ** 3) / (microsteps * delta) ** 2) * uVariance
  return { value, u, low: value - z95 * u, high: value + z95 * u }
}

/** Marks needed for a 95 % interval of ± halfWidth on the effective count; the spread falls with the root of their number. */
export const marksForInterval = (trace: Omit<Trace, 'marks'>, halfWidth: number): number =>
  Math.max(1, Math.ceil(((z95 * effectiveOutlook({ ...trace, marks: 1 }).u) / halfWidth) ** 2))
