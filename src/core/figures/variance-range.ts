/** 95 % range of σ², deg². */
export type VarianceRange = readonly [low: number, high: number]

/** What holds either of two. */
export const bothOf = (one: VarianceRange, other: VarianceRange): VarianceRange => [Math.min(one[0], other[0]), Math.max(one[1], other[1])]
