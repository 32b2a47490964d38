/**
 * Identity of a reference target: a circle of 13 places, 6 of them taken by a bead. As 13 is prime no arrangement
 * looks like itself when turned, so identity and orientation come from the same look; as the number of beads is
 * fixed, no single misread place turns one identity into another.
 */
export const beadPlaces = 13
export const beadsTaken = 6

/** Identities in use: the largest prime not above C(13, 6)/13 = 132. */
export const identities = 131

const all = (1 << beadPlaces) - 1

const turned = (bits: number, places: number): number => ((bits << places) | (bits >> (beadPlaces - places))) & all

const beadsIn = (bits: number): number => (bits === 0 ? 0 : (bits & 1) + beadsIn(bits >> 1))

const smallestTurn = (bits: number): number => {
  let least = bits
  for (let places = 1; places < beadPlaces; places++) least = Math.min(least, turned(bits, places))
  return least
}

/** Arrangements by identity, each as the smallest number among its turns; bit n is place n. */
const arrangements: readonly number[] = Array.from({ length: all + 1 }, (_, bits) => bits)
  .filter((bits) => beadsIn(bits) === beadsTaken && smallestTurn(bits) === bits)
  .slice(0, identities)

/** Which places have a bead, place 0 first; RangeError for an identity that is not in use. */
export const beadsOf = (identity: number): readonly boolean[] => {
  const bits = arrangements[identity]
  if (bits === undefined) throw new RangeError(`no target identity ${identity}`)
  return Array.from({ length: beadPlaces }, (_, place) => ((bits >> place) & 1) === 1)
}

/** An arrangement as read: its identity, and by how many places it is turned counter-clockwise. */
export interface ReadCode {
  readonly identity: number
  readonly turn: number
}

const readings: ReadonlyMap<number, ReadCode> = new Map(
  arrangements.flatMap((bits, identity) =>
    Array.from({ length: beadPlaces }, (_, turn) => [turned(bits, turn), { identity, turn }] as const),
  ),
)

/** Looks up beads read counter-clockwise as seen from any starting place; null when they are no identity. */
export const identityOf = (beads: readonly boolean[]): ReadCode | null =>
  readings.get(beads.reduce((bits, bead, place) => bits | (bead ? 1 << place : 0), 0)) ?? null

/**
 * Identity printed at a place of a page. Each page is a line over the integers modulo 131, so that two pages share
 * at most one (place, identity) pair and any few targets in view tell which page they are on.
 */
export const identityAt = (page: number, place: number): number => ((page + 1) * place + 17 * page) % identities
