/**
 * The value that things making up a share of all weight (0 … 1) do not exceed: one of the values, never between two; NaN when
 * there is none.
 */
export const weightedQuantile = <T>(things: readonly T[], share: number, value: (thing: T) => number, weight: (thing: T) => number): number => {
  const order = things.map((thing) => ({ value: value(thing), weight: weight(thing) })).sort((a, b) => a.value - b.value)
  let left = share * order.reduce((sum, o) => sum + o.weight, 0)
  for (const one of order) {
    left -= one.weight
    if (left <= 0) return one.value
  }
  return order.at(-1)?.value ?? Number.NaN
}
