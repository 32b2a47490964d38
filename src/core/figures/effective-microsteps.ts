/**
 * Effective microstep count N_eff = N / √(1 + 12·σ²/δ²), σ² = max(0, mean e² − u²): the number of perfectly even
 * microsteps per full step whose total error, their own δ²/12 quantisation included, equals this motor's. It is an A/D
 * converter's effective number of bits counted in steps (IEEE Std 1241), and M for M even steps whatever N.
 */
export const effectiveCount = (microsteps: number, meanSquareErrorDeg2: number, uDeg: number, microstepDeg: number): number =>
  microsteps / Math.sqrt(1 + (12 * Math.max(0, meanSquareErrorDeg2 - uDeg * uDeg)) / (microstepDeg * microstepDeg))

/**
 * Gap-effective count α/√(Σg³/Σg) over the distinct gaps: what a controller that knew every rest could use.
 * @param gapsDeg distances between neighbouring distinct rest positions, all positive
 */
export const gapEffectiveCount = (gapsDeg: readonly number[], fullStepDeg: number): number => {
  let cubes = 0
  let total = 0
  for (const gap of gapsDeg) {
    cubes += gap ** 3
    total += gap
  }
  return fullStepDeg / Math.sqrt(cubes / total)
}

/** Distances between neighbouring distinct positions, deg; those within `expandedDeg` count as one. */
export const distinctGaps = (anglesDeg: readonly number[], expandedDeg: number): number[] => {
  const sorted = anglesDeg.toSorted((a, b) => a - b)
  const kept: number[] = []
  for (const angle of sorted) {
    const last = kept.at(-1)
    if (last === undefined || angle - last > expandedDeg + 1e-9) kept.push(angle)
  }
  return kept.slice(1).map((angle, i) => angle - (kept[i] ?? 0))
}
