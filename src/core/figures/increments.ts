/** Increment g_k = r_k − r_{k−1} of commands 1 … K, in the unit of the angles. */
export const incrementsOf = (angles: readonly number[]): number[] => angles.slice(1).map((angle, i) => angle - (angles[i] ?? 0))
