/** x and y of a middle, and how far from it anything may matter; any one unit. */
export type Disc = readonly [number, number, number]

/**
 * A first look before things are compared pair by pair: which of many may be near another at all.
 * @returns for a disc the indices, ascending, of those whose squares around their discs meet its own; every disc that touches it is among them
 */
export const nearDiscs = <T>(things: readonly T[], discOf: (thing: T) => Disc): ((disc: Disc) => number[]) => {
  const xs = new Float64Array(things.length)
  const ys = new Float64Array(things.length)
  const reaches = new Float64Array(things.length)
  for (let i = 0; i < things.length; i++) {
    const [x, y, reach] = discOf(things[i] as T)
    xs[i] = x
    ys[i] = y
    reaches[i] = reach
  }
  return ([x, y, reach]) => {
    const near: number[] = []
    for (let i = 0; i < xs.length; i++) {
      const within = reach + (reaches[i] as number)
      if (Math.abs((xs[i] as number) - x) <= within && Math.abs((ys[i] as number) - y) <= within) near.push(i)
    }
    return near
  }
}
