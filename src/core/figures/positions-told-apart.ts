const rounding = 1e-9

/** Of angles in ascending order those that can be told apart: each stands further than U_g from the last one kept. */
export const distinctAngles = (sorted: readonly number[], expandedDeg: number): number[] => {
  const kept: number[] = []
  let last = Number.NEGATIVE_INFINITY
  for (const angle of sorted) {
    if (angle - last <= expandedDeg + rounding) continue
    kept.push(angle)
    last = angle
  }
  return kept
}

/**
 * How many rest positions of commands 1 … K can be told apart. On a whole turn the first and last may be the same place; they
 * are then counted once.
 * @param turnDeg one turn, deg, when the marks go round; null otherwise
 */
export const toldApart = (anglesDeg: readonly number[], expandedDeg: number, turnDeg: number | null): number => {
  const distinct = distinctAngles(anglesDeg.slice(1).toSorted((a, b) => a - b), expandedDeg)
  const span = (distinct.at(-1) ?? 0) - (distinct[0] ?? 0)
  const meets = turnDeg !== null && distinct.length > 1 && Math.abs(span - turnDeg) <= expandedDeg + rounding
  return meets ? distinct.length - 1 : distinct.length
}

/**
 * Nominal positions k·δ (k = 1 … K, offset as in the position error) with no rest within ±δ/2 of them.
 * @param errorsDeg e_0 … e_K
 */
export const missingPositions = (errorsDeg: readonly number[], microstepDeg: number): number => {
  const rests = errorsDeg.map((error, k) => error + microstepDeg * k).toSorted((a, b) => a - b)
  const reach = microstepDeg * (0.5 + rounding)
  let at = 0
  let missing = 0
  for (let k = 1; k < errorsDeg.length; k++) {
    while (at < rests.length && (rests[at] as number) < k * microstepDeg - reach) at++
    if (at >= rests.length || (rests[at] as number) > k * microstepDeg + reach) missing++
  }
  return missing
}
