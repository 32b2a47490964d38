/** Time to make a mark where nobody says otherwise, s. */
export const usualDwellS = 2

/** Time for the shaft to come to rest before it, s. */
export const usualSettleS = 0.5

/** Commands per second where nothing is marked. */
export const usualRate = 4

/** Full steps that take up friction and play before a pass. */
export const usualRunUp = 4
