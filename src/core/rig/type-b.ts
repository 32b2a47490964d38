/** Standard uncertainty of a value known only to lie within ±a, all places alike (JCGM 100, 4.3.7). */
export const rectangular = (halfWidth: number): number => halfWidth / Math.sqrt(3)

/** Standard uncertainty of a value read to steps of q (JCGM 100, F.2.2.1). */
export const resolution = (step: number): number => rectangular(step / 2)
