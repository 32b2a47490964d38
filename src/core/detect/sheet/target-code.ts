import { once } from '#core/numeric/once'

/**
 * Identity of a reference target: a circle of 13 places, 6 of them taken by a tick. As 13 is prime no arrangement
 * looks like itself when turned, so identity and orientation come from the same look; as the number of ticks is
 * fixed, no single misread place turns one identity into another.
 */
export const tickPlaces = 13
export const ticksTaken = 6

/** Identities in use: the largest prime not above C(13, 6)/13 = 132. */
export const identities = 131

const all = (1 << tickPlaces) - 1

const turned = (bits: number, places: number): number => ((bits << places) | (bits >> (tickPlaces - places))) & all

const ticksIn = (bits: number): number => (bits === 0 ? 0 : (bits & 1) + ticksIn(bits >> 1))

const smallestTurn = (bits: number): number => {
  let least = bits
  for (let places = 1; places < tickPlaces; places++) least = Math.min(least, turned(bits, places))
  return least
}

/** Arrangements by identity, each as the smallest number among its turns, so odd and without the last place; bit n is place n. */
const arrangements = once((): readonly number[] =>
  Array.from({ length: (all + 1) >> 2 }, (_, half) => 2 * half + 1)
    .filter((bits) => ticksIn(bits) === ticksTaken && smallestTurn(bits) === bits)
    .slice(0, identities),
)

/** Which places have a tick, place 0 first; RangeError for an identity that is not in use. */
export const ticksOf = (identity: number): readonly boolean[] => {
  const bits = arrangements()[identity]
  if (bits === undefined) throw new RangeError(`no target identity ${identity}`)
  return Array.from({ length: tickPlaces }, (_, place) => ((bits >> place) & 1) === 1)
}

/** An arrangement as read: its identity, and by how many places it is turned counter-clockwise. */
export interface ReadCode {
  readonly identity: number
  readonly turn: number
}

const readings = once((): ReadonlyMap<number, ReadCode> =>
  new Map(arrangements().flatMap((bits, identity) => Array.from({ length: tickPlaces }, (_, turn) => [turned(bits, turn), { identity, turn }] as const))),
)

/** Looks up ticks read counter-clockwise as seen from any starting place; null when they are no identity. */
export const identityOf = (ticks: readonly boolean[]): ReadCode | null =>
  readings().get(ticks.reduce((bits, tick, place) => bits | (tick ? 1 << place : 0), 0)) ?? null

/**
 * Identity printed at a place of a page. Each page is a line over the integers modulo 131, so that two pages share
 * at most one (place, identity) pair and any few targets in view tell which page they are on.
 */
export const identityAt = (page: number, place: number): number => ((page + 1) * place + 17 * page) % identities
