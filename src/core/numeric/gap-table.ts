export interface GapProblem {
  /** Mark positions in units of one count, ascending, the first at 0. */
  readonly positions: readonly number[]
  readonly total: number
  /** Counts known beforehand; null where open. */
  readonly known?: readonly (number | null)[]
}

export interface Band {
  readonly low: Int32Array
  readonly width: number
}

/** A counting with what its cost is as a function of c: squares − 2·c·sum + M·c². */
export interface Counting {
  readonly counts: Int32Array
  readonly sum: number
  readonly squares: number
}

export const costAt = ({ sum, squares }: Counting, marks: number, c: number): number => squares - 2 * c * sum + marks * c * c

/** How many counts any mark may have: counts rise from mark to mark, so mark m has one of m … m + choices − 1. */
const choicesOf = ({ positions, total }: GapProblem): number => total - positions.length + 2

/** Counts within `reach` of each position, as far as the mark can have them. */
export const bandOf = (problem: GapProblem, c: number, reach: number): Band => {
  const choices = choicesOf(problem)
  const width = Math.min(Math.ceil(2 * reach) + 2, choices)
  const low = Int32Array.from(problem.positions, (x, m) => Math.min(Math.max(m, Math.floor(x - c - reach)), m + choices - width))
  return { low, width }
}

/** Cost of giving mark m the number `count`; Infinity where it cannot have it. */
export const cell = ({ positions, total, known }: GapProblem, m: number, count: number, c: number): number => {
  const last = positions.length - 1
  const fixed = m === 0 ? 0 : m === last ? total : (known?.[m] ?? null)
  if (fixed !== null ? count !== fixed : count < m || count > total - (last - m)) return Number.POSITIVE_INFINITY
  return ((positions[m] as number) - count - c) ** 2
}

/** Forward table: least cost of marks 0 … m with mark m numbered low[m] + j. */
export const forward = (problem: GapProblem, c: number, { low, width }: Band): { table: Float64Array; from: Int32Array } => {
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

/** Forward table of the problem seen from its far end, laid out like the forward one. */
export const backward = (problem: GapProblem, c: number, band: Band): Float64Array => {
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
export const mostCells = 40_000_000

/** The same, with a reach wide enough to prove the answer; null, too, where that would take more memory than there may be. */
export const provenAt = (problem: GapProblem, c: number): Counting | null => {
  const { positions } = problem
  const choices = choicesOf(problem)
  const most = Math.min(choices, mostCells / positions.length)
  for (let reach = 2; 2 * reach + 2 < most; reach *= 2) {
    const found = solveAt(problem, c, bandOf(problem, c, reach))
    if (found && costAt(found, positions.length, c) <= reach * reach) return found
  }
  return most < choices ? null : solveAt(problem, c, bandOf(problem, c, problem.total))
}
