const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b)

/** Middle value, of an even number the upper of the two; NaN when there is none. */
export const median = (values: readonly number[]): number => sorted(values)[values.length >> 1] ?? Number.NaN

/** The same; 0 when there is none. */
export const medianOrZero = (values: readonly number[]): number => sorted(values)[values.length >> 1] ?? 0

/** The value that about a share `q` (0 … 1) of all do not exceed: one of the values, never between two; NaN when there is none. */
export const quantile = (values: readonly number[], q: number): number => sorted(values)[Math.floor(q * (values.length - 1))] ?? Number.NaN
