import { median } from '#core/numeric/median'

/** Marks must go on by this many microsteps at most from one to the next to be a pair, and by more everywhere else. */
const together = 0.35
/** How far behind its commands the shaft must stay after a pair that is one mark drawn twice, microsteps. */
const behind = { least: 0.5, most: 1.5 }
/** Marks wanted on either side. */
const fewest = 3

/**
 * Two marks at one place where all others stand apart, the later ones a microstep behind their commands: one mark drawn twice,
 * or one command that moved nothing and was not made up for. A trace of some cycles tells them apart (see countingSlip); a short
 * one, or one with the pair near its end, does not.
 * @param positions marks in microsteps, one command each as counted, travel positive
 * @returns place of the pair's second mark; null where there is none, or several
 */
export const lonePair = (positions: readonly number[], microsteps: number): number | null => {
  const close = positions.flatMap((position, m) => (m > 0 && position - (positions[m - 1] ?? 0) < together ? [m] : []))
  const [place] = close
  if (place === undefined || close.length > 1 || place < fewest || positions.length - place < fewest + 1) return null
  const errors = positions.map((position, m) => position - m)
  const reach = 4 * microsteps
  const step = median(errors.slice(place + 1, place + 1 + reach)) - median(errors.slice(Math.max(0, place - reach), place))
  return -step >= behind.least && -step <= behind.most ? place : null
}
