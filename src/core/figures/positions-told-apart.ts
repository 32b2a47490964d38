const rounding = 1e-9

/**
 * Rest positions of commands 1 … K that can be told apart, i.e. that stand further than U_g from the last one counted.
 * On a whole turn the first and last may be the same place; they are then counted once.
 * @param turnDeg one turn, deg, when the marks go round; null otherwise
 */
export const toldApart = (anglesDeg: readonly number[], expandedDeg: number, turnDeg: number | null): number => {
  const sorted = anglesDeg.slice(1).toSorted((a, b) => a - b)
  const limit = expandedDeg + rounding
  let last = Number.NEGATIVE_INFINITY
  let count = 0
  for (const angle of sorted) {
    if (angle - last <= limit) continue
    last = angle
    count++
  }
  const meets = turnDeg !== null && count > 1 && Math.abs(last - (sorted[0] ?? 0) - turnDeg) <= limit
  return meets ? count - 1 : count
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
