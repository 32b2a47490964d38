/** Time to make a mark where nobody says otherwise, s. */
export const usualDwellS = 2
