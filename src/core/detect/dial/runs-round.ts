/** The places from and up to which something holds without a break; the last may go on past the circle's end. */
export type RunRound = readonly [from: number, to: number]

/** Unbroken runs round a circle; none where it holds all round. */
export const runsRound = (is: readonly boolean[]): RunRound[] => {
  const start = is.indexOf(false)
  if (start < 0) return []
  const runs: RunRound[] = []
  let from = -1
  for (let k = start; k <= start + is.length; k++) {
    const here = is[k % is.length] as boolean
    if (here && from < 0) from = k
    if (!here && from >= 0) {
      runs.push([from, k])
      from = -1
    }
  }
  return runs
}
