import { nthSmallest } from './nth-smallest.ts'

const ranked = (values: ArrayLike<number>, rank: number): number => nthSmallest(new Float64Array(values), rank)

/** Middle value, of an even number the upper of the two; NaN when there is none. */
export const median = (values: ArrayLike<number>): number => ranked(values, values.length >> 1)

/** The same; 0 when there is none. */
export const medianOrZero = (values: ArrayLike<number>): number => (values.length === 0 ? 0 : median(values))

/** The value that about a share `q` (0 … 1) of all do not exceed: one of the values, never between two; NaN when there is none. */
export const quantile = (values: ArrayLike<number>, q: number): number => ranked(values, Math.floor(q * (values.length - 1)))

/** Spread of a normal law whose values are as far from `middle` as the middle one of these is; 0 when there is none. */
export const robustSpread = (values: ArrayLike<number>, middle = 0): number => 1.4826 * medianOrZero(Float64Array.from(values, (v) => Math.abs(v - middle)))
