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

export interface GapProblem {
  /** Mark positions in units of one count, ascending, the first at 0. */
  readonly positions: readonly number[]
  readonly total: number
  /** Counts known beforehand; null where open. */
  readonly known?: readonly (number | null)[]
}

interface Band {
  readonly low: Int32Array
  readonly width: number
}

/** A counting with what its cost is as a function of c: squares − 2·c·sum + M·c². */
interface Counting {
  readonly counts: Int32Array
  readonly sum: number
  readonly squares: number
}

const costAt = ({ sum, squares }: Counting, marks: number, c: number): number => squares - 2 * c * sum + marks * c * c
const bestOffset = ({ sum }: Counting, marks: number): number => sum / marks
const bestCost = ({ sum, squares }: Counting, marks: number): number => squares - (sum * sum) / marks

/** How many counts any mark may have: counts rise from mark to mark, so mark m has one of m … m + choices − 1. */
const choicesOf = ({ positions, total }: GapProblem): number => total - positions.length + 2

/** Counts within `reach` of each position, as far as the mark can have them. */
const bandOf = (problem: GapProblem, c: number, reach: number): Band => {
  const choices = choicesOf(problem)
  const width = Math.min(Math.ceil(2 * reach) + 2, choices)
  const low = Int32Array.from(problem.positions, (x, m) => Math.min(Math.max(m, Math.floor(x - c - reach)), m + choices - width))
  return { low, width }
}

/** Cost of giving mark m the number `count`; Infinity where it cannot have it. */
const cell = ({ positions, total, known }: GapProblem, m: number, count: number, c: number): number => {
  const last = positions.length - 1
  const fixed = m === 0 ? 0 : m === last ? total : (known?.[m] ?? null)
  if (fixed !== null ? count !== fixed : count < m || count > total - (last - m)) return Number.POSITIVE_INFINITY
  return ((positions[m] as number) - count - c) ** 2
}

/** Forward table: least cost of marks 0 … m with mark m numbered low[m] + j. */
const forward = (problem: GapProblem, c: number, { low, width }: Band): { table: Float64Array; from: Int32Array } => {
  const marks = problem.positions.length
  const table = new Float64Array(marks * width).fill(Number.POSITIVE_INFINITY)
  const from = new Int32Array(marks * width).fill(-1)
  for (let m = 0; m < marks; m++) {
    let best = m === 0 ? 0 : Number.POSITIVE_INFINITY
    let bestAt = -1
    let next = 0
    const shift = m === 0 ? 0 : (low[m] as number) - (low[m - 1] as number)
    for (let j = 0; j < width; j++) {
      for (; m > 0 && next < Math.min(width, j + shift); next++) {
        const value = table[(m - 1) * width + next] as number
        if (value < best) {
          best = value
          bestAt = next
        }
      }
      table[m * width + j] = best + cell(problem, m, (low[m] as number) + j, c)
      from[m * width + j] = bestAt
    }
  }
  return { table, from }
}

/** Best counting for one offset, or null when the band holds none. */
const solveAt = (problem: GapProblem, c: number, band: Band): Counting | null => {
  const { table, from } = forward(problem, c, band)
  const marks = problem.positions.length
  let at = problem.total - (band.low[marks - 1] as number)
  if (at < 0 || at >= band.width || table[(marks - 1) * band.width + at] === Number.POSITIVE_INFINITY) return null
  const counts = new Int32Array(marks)
  let sum = 0
  let squares = 0
  for (let m = marks - 1; m >= 0; m--) {
    const count = (band.low[m] as number) + at
    counts[m] = count
    const miss = (problem.positions[m] as number) - count
    sum += miss
    squares += miss * miss
    at = from[m * band.width + at] as number
  }
  return { counts, sum, squares }
}

/** Largest table, cells: half a gigabyte. Only numbers that contradict the positions ask for more. */
const mostCells = 40_000_000

/** The same, with a reach wide enough to prove the answer; null, too, where that would take more memory than there may be. */
const provenAt = (problem: GapProblem, c: number): Counting | null => {
  const { positions } = problem
  const choices = choicesOf(problem)
  const most = Math.min(choices, mostCells / positions.length)
  for (let reach = 2; 2 * reach + 2 < most; reach *= 2) {
    const found = solveAt(problem, c, bandOf(problem, c, reach))
    if (found && costAt(found, positions.length, c) <= reach * reach) return found
  }
  return most < choices ? null : solveAt(problem, c, bandOf(problem, c, problem.total))
}

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

/** Forward table of the problem seen from its far end, laid out like the forward one. */
const backward = (problem: GapProblem, c: number, band: Band): Float64Array => {
  const marks = problem.positions.length
  const table = new Float64Array(marks * band.width).fill(Number.POSITIVE_INFINITY)
  for (let m = marks - 1; m >= 0; m--) {
    let best = m === marks - 1 ? 0 : Number.POSITIVE_INFINITY
    let next = band.width - 1
    const shift = m === marks - 1 ? 0 : (band.low[m + 1] as number) - (band.low[m] as number)
    for (let j = band.width - 1; j >= 0; j--) {
      for (; m < marks - 1 && next >= Math.max(0, j - shift + 1); next--) best = Math.min(best, table[(m + 1) * band.width + next] as number)
      table[m * band.width + j] = best + cell(problem, m, (band.low[m] as number) + j, c)
    }
  }
  return table
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
