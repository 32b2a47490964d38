import type { Runs } from './dark-runs.ts'

/** Sums over the pixels of one connected dark area, reduced px. */
export interface Blob {
  readonly area: number
  readonly meanX: number
  readonly meanY: number
  /** Second central moments per pixel, px². */
  readonly xx: number
  readonly xy: number
  readonly yy: number
  /** Upright box round the area. */
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/** The one run that stands for all of a run's area. */
export const rootOf = (parents: Int32Array, index: number): number => {
  let root = index
  while (parents[root] !== root) root = parents[root] as number
  let walk = index
  while (parents[walk] !== root) {
    const next = parents[walk] as number
    parents[walk] = root
    walk = next
  }
  return root
}

/** Joins runs that touch runs of the row above, corners included (`reach` 1) or not (0); see rootOf. */
export const joinRuns = ({ count, rows, from, to }: Runs, reach: 0 | 1): Int32Array => {
  const parents = Int32Array.from({ length: count }, (_, index) => index)
  let above = 0
  for (let run = 0; run < count; run++) {
    const row = rows[run] as number
    while (above < run && ((rows[above] as number) < row - 1 || ((rows[above] as number) === row - 1 && (to[above] as number) + reach <= (from[run] as number)))) above++
    for (let other = above; other < run && rows[other] === row - 1 && (from[other] as number) < (to[run] as number) + reach; other++) {
      parents[rootOf(parents, run)] = rootOf(parents, other)
    }
  }
  return parents
}

const fields = 10
const [N, X, Y, XX, XY, YY, LEFT, RIGHT, TOP, BOTTOM] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9] as const

/** Adds one run; closed sums of x and x² over from … to − 1. */
const addRun = (sums: Float64Array, at: number, row: number, span: readonly [from: number, to: number]): void => {
  const [from, to] = span
  const n = to - from
  const x = (n * (from + to - 1)) / 2
  const squares = (k: number) => ((k - 1) * k * (2 * k - 1)) / 6
  const add = (field: number, value: number) => {
    sums[at + field] = (sums[at + field] as number) + value
  }
  if (sums[at + N] === 0) {
    sums[at + LEFT] = from
    sums[at + RIGHT] = to
    sums[at + TOP] = row
  }
  sums[at + LEFT] = Math.min(sums[at + LEFT] as number, from)
  sums[at + RIGHT] = Math.max(sums[at + RIGHT] as number, to)
  sums[at + BOTTOM] = row + 1
  add(N, n)
  add(X, x)
  add(Y, n * row)
  add(XX, squares(to) - squares(from))
  add(XY, x * row)
  add(YY, n * row * row)
}

const blobOf = (sums: Float64Array, at: number): Blob => {
  const get = (field: number) => sums[at + field] as number
  const n = get(N)
  const [meanX, meanY] = [get(X) / n, get(Y) / n]
  return {
    area: n,
    meanX,
    meanY,
    xx: get(XX) / n - meanX * meanX + 1 / 12,
    xy: get(XY) / n - meanX * meanY,
    yy: get(YY) / n - meanY * meanY + 1 / 12,
    left: get(LEFT),
    top: get(TOP),
    width: get(RIGHT) - get(LEFT),
    height: get(BOTTOM) - get(TOP),
  }
}

/** Connected dark areas (eight neighbours) of at least `leastArea` pixels, in no particular order. */
export const blobsOf = (runs: Runs, leastArea: number): readonly Blob[] => {
  const parents = joinRuns(runs, 1)
  const slots = new Int32Array(runs.count).fill(-1)
  let blobs = 0
  for (let run = 0; run < runs.count; run++) {
    const root = rootOf(parents, run)
    if (slots[root] === -1) slots[root] = blobs++
  }
  const sums = new Float64Array(blobs * fields)
  for (let run = 0; run < runs.count; run++) {
    const at = (slots[rootOf(parents, run)] as number) * fields
    addRun(sums, at, runs.rows[run] as number, [runs.from[run] as number, runs.to[run] as number])
  }
  return Array.from({ length: blobs }, (_, blob) => blob * fields)
    .filter((at) => (sums[at + N] as number) >= leastArea)
    .map((at) => blobOf(sums, at))
}
