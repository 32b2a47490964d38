/**
 * Effective microstep count N_eff = N / √(1 + 12·σ²/δ²), σ² = max(0, mean e² − u²): the number of perfectly even
 * microsteps per full step whose total error, their own δ²/12 quantisation included, equals this motor's. It is an A/D
 * converter's effective number of bits counted in steps (IEEE Std 1241), and M for M even steps whatever N.
 */
export const effectiveCount = (microsteps: number, meanSquareErrorDeg2: number, uDeg: number, microstepDeg: number): number =>
  microsteps / Math.sqrt(1 + (12 * Math.max(0, meanSquareErrorDeg2 - uDeg * uDeg)) / (microstepDeg * microstepDeg))
