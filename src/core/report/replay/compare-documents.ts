/** One value of a document that came out otherwise. */
export interface Difference {
  /** Where it stands: `figures.effectiveMicrosteps.low`. */
  readonly path: string
  readonly kept: unknown
  readonly now: unknown
  /** now − kept for two numbers, else null. */
  readonly by: number | null
}

/** Two documents compared value by value. */
export interface Comparison {
  /** How many values were compared. */
  readonly values: number
  readonly differences: readonly Difference[]
  /** Largest |now − kept| / max(|kept|, |now|) among numbers, those within the tolerance included. */
  readonly largestRelative: number
}

const isBranch = (value: unknown): value is Readonly<Record<string, unknown>> => typeof value === 'object' && value !== null

const pathTo = (path: string, key: string, inArray: boolean): string => (inArray ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`)

/** Every value of a document by its path; empty lists and objects count as values. */
const leavesOf = (value: unknown, path = ''): readonly (readonly [string, unknown])[] => {
  if (!isBranch(value) || Object.keys(value).length === 0) return [[path, isBranch(value) ? JSON.stringify(value) : value]]
  return Object.entries(value).flatMap(([key, each]) => leavesOf(each, pathTo(path, key, Array.isArray(value))))
}

const relative = (kept: number, now: number): number => (kept === now ? 0 : Math.abs(now - kept) / Math.max(Math.abs(kept), Math.abs(now)))

/**
 * Compares two JSON documents.
 * @param tolerance largest relative difference of two numbers that still counts as the same; 0: bit for bit
 * @returns what is missing on one side too, as undefined there
 */
export const compareDocuments = (kept: unknown, now: unknown, tolerance = 0): Comparison => {
  const [before, after] = [kept, now].map((document) => new Map(leavesOf(document)))
  if (!before || !after) return { values: 0, differences: [], largestRelative: 0 }
  const paths = [...new Set([...before.keys(), ...after.keys()])]
  let largestRelative = 0
  const differences = paths.flatMap((path): Difference[] => {
    const [a, b] = [before.get(path), after.get(path)]
    if (typeof a !== 'number' || typeof b !== 'number') return a === b ? [] : [{ path, kept: a, now: b, by: null }]
    const off = relative(a, b)
    largestRelative = Math.max(largestRelative, off)
    return off <= tolerance ? [] : [{ path, kept: a, now: b, by: b - a }]
  })
  return { values: paths.length, differences, largestRelative }
}
