/** Where the parabola through three neighbouring values has its top, counted in steps from the middle one; 0 where it has none. */
export const parabolaTop = (before: number, here: number, after: number): number => {
  const bend = before - 2 * here + after
  return bend < 0 ? (before - after) / (2 * bend) : 0
}
