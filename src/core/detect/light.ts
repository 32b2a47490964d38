/** Grey levels grow about with the 1/2.2th power of the light (IEC 61966-2-1 on the whole). */
export const GAMMA = 2.2

/** Light of a grey level, both 0 … 1. */
export const lightOf = (grey: number): number => Math.max(0, grey) ** GAMMA
