import { backward, bandOf, cell, costAt, type Counting, forward, type GapProblem, mostCells, provenAt } from './gap-table.ts'

/**
 * Whole counts for the gaps of a line of marks: C_0 = 0 < C_1 < … < C_last = total, chosen so that
 * Σ (x_m − C_m − c)² is least over all counts and all offsets c. Exact, by dynamic programming.
 *
 * For one c the table has a row per mark; only counts within `reach` of the mark are kept, and reach² ≥ the best cost
 * proves that nothing outside could have been better. Over c the best cost minus M·c² is the lower envelope of straight
 * lines, so the search splits an interval only where two known lines leave room for a better one below them.
 */
export interface GapCounts {
  /** C_m for each mark. */
  readonly counts: readonly number[]
  readonly offset: number
  /** Σ (x_m − C_m − c)² at the best. */
  readonly cost: number
  /** For each mark the extra cost of the best counting that gives it another number; Infinity when there is none. */
  readonly margins: readonly number[]
  /** For each mark the number it has in that next-best counting. */
  readonly alternatives: readonly number[]
}

const bestOffset = ({ sum }: Counting, marks: number): number => sum / marks
const bestCost = ({ sum, squares }: Counting, marks: number): number => squares - (sum * sum) / marks

/** Splits [left, right] where a better counting may hide below the two known lines. */
const searchBetween = (problem: GapProblem, start: Counting): Counting => {
  const marks = problem.positions.length
  let best = start
  const span = Math.sqrt(bestCost(start, marks)) + 1e-9
  const edges = [-span, span].map((c) => ({ c, line: provenAt(problem, c) ?? start }))
  const open = [edges as [(typeof edges)[0], (typeof edges)[0]]]
  for (let next = open.pop(); next; next = open.pop()) {
    const [a, b] = next
    for (const { line } of next) if (bestCost(line, marks) < bestCost(best, marks)) best = line
    if (a.line.sum === b.line.sum || b.c - a.c < 1e-9) continue
    const meet = (b.line.squares - a.line.squares) / (2 * (b.line.sum - a.line.sum))
    if (!(meet > a.c && meet < b.c) || chordBound(a, b, marks) >= bestCost(best, marks) - 1e-12) continue
    const line = provenAt(problem, meet) ?? start
    if (costAt(line, marks, meet) >= costAt(a.line, marks, meet) - 1e-12) continue
    const middle = { c: meet, line }
    open.push([a, middle], [middle, b])
  }
  return best
}

/** Lower bound of the cost between two solved offsets: the envelope is concave, so it lies above its chord. */
const chordBound = (a: { c: number; line: Counting }, b: { c: number; line: Counting }, marks: number): number => {
  const low = costAt(a.line, marks, a.c) - marks * a.c * a.c
  const slope = (costAt(b.line, marks, b.c) - marks * b.c * b.c - low) / (b.c - a.c)
  const c = Math.min(b.c, Math.max(a.c, -slope / (2 * marks)))
  return low + slope * (c - a.c) + marks * c * c
}

/** Extra cost, mark by mark, of the best counting that numbers it differently (offset held at its best). */
const marginsOf = (problem: GapProblem, best: Counting): Pick<GapCounts, 'margins' | 'alternatives'> => {
  const marks = problem.positions.length
  const c = bestOffset(best, marks)
  const reach = Math.min(Math.sqrt(bestCost(best, marks)) + 3, Math.max(2, mostCells / marks / 2 - 2))
  const band = bandOf(problem, c, reach)
  const ahead = forward(problem, c, band).table
  const behind = backward(problem, c, band)
  const found = problem.positions.map((_, m) => {
    let extra = Number.POSITIVE_INFINITY
    let alternative = best.counts[m] as number
    for (let j = 0; j < band.width; j++) {
      const count = (band.low[m] as number) + j
      const total = (ahead[m * band.width + j] as number) + (behind[m * band.width + j] as number) - cell(problem, m, count, c)
      if (count !== best.counts[m] && total - bestCost(best, marks) < extra) {
        extra = Math.max(0, total - bestCost(best, marks))
        alternative = count
      }
    }
    return { extra, alternative }
  })
  const margins = found.map(({ extra }) => extra)
  const alternatives = found.map(({ alternative }) => alternative)
  for (const m of smallest(margins, refined)) {
    const number = best.counts[m] as number
    const tried = [...new Set([alternatives[m] as number, number - 1, number + 1])].map((count) => ({ count, extra: extraCost(problem, best, m, count) }))
    const least = tried.reduce((one, other) => (other.extra < one.extra ? other : one))
    margins[m] = least.extra
    alternatives[m] = least.count
  }
  return { margins, alternatives }
}

/** So many of the smallest margins are worked out with their own offset; the others keep the best one's, which is more. */
const refined = 12

const smallest = (values: readonly number[], howMany: number): number[] =>
  values
    .map((value, place) => ({ value, place }))
    .filter(({ value }) => Number.isFinite(value))
    .sort((a, b) => a.value - b.value)
    .slice(0, howMany)
    .map(({ place }) => place)

/** With more marks than this one refit of the offset must do; among so many, one mark hardly moves it. */
const mostSearched = 120

/** What numbering one mark differently costs when everything else may follow, the offset too. */
const extraCost = (problem: GapProblem, best: Counting, mark: number, count: number): number => {
  const marks = problem.positions.length
  const changed = { ...problem, known: problem.positions.map((_, m) => (m === mark ? count : (problem.known?.[m] ?? null))) }
  const other = provenAt(changed, bestOffset(best, marks))
  if (!other) return Number.POSITIVE_INFINITY
  const settled = marks <= mostSearched ? searchBetween(changed, other) : other
  return Math.max(0, bestCost(settled, marks) - bestCost(best, marks))
}

const solve = (problem: GapProblem): Counting | null => {
  const first = provenAt(problem, 0)
  return first && searchBetween(problem, first)
}

/**
 * @returns null when no counting fits (more marks than counts, or known counts that contradict the order)
 */
export const countGaps = (problem: GapProblem): GapCounts | null => {
  const marks = problem.positions.length
  if (marks < 2 || problem.total < marks - 1) return null
  const best = solve(problem)
  if (!best) return null
  const offset = bestOffset(best, marks)
  return { counts: [...best.counts], offset, cost: Math.max(0, bestCost(best, marks)), ...marginsOf(problem, best) }
}
