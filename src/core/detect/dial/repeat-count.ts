import { alignRepeats } from './align-repeats.ts'
import { type Count, placesIn, toSayWhich, TURN } from './fit-turn.ts'
import { median } from '#core/numeric/median'
import { solveNormal, twoWaves } from '#core/numeric/normal-equations'

/** A motor's own pattern repeats at least this often per turn. */
const FEWEST = 5
/** And of even steps without a pattern there may be so many more than marks. */
const OVERLOOKED = 4
/** Repeats that are looked into, those that gather the marks most strongly. */
const LOOKED_INTO = 8
/** Places in the pattern further apart than this share of their usual distance are two. */
const APART = 0.3
/** A place that fewer repeats than this share have is a stray. */
const SHARED = 0.4
/** Of the marks this share must lie at shared places. */
const EXPLAINED = 0.85

/** How strongly marks gather when the turn is folded 0, 1 … `most` times: 1 when all fall together. */
const gatherings = (angles: readonly number[], most: number): number[] => {
  const [across, up] = [new Float64Array(most + 1), new Float64Array(most + 1)]
  for (const angle of angles) {
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
    let [x, y] = [1, 0]
    for (let repeats = 0; repeats <= most; repeats++) {
      across[repeats] = (across[repeats] as number) + x
      up[repeats] = (up[repeats] as number) + y
      const turned = x * cos - y * sin
      y = x * sin + y * cos
      x = turned
    }
  }
  return Array.from(across, (sum, repeats) => Math.hypot(sum, up[repeats] as number) / angles.length)
}

/** Phases (0 … 1) in order, cut into places where two neighbours lie further apart than `apart`; the first place may reach over 1. */
const placesOf = (phases: readonly number[], apart: number): number[][] => {
  const sorted = [...phases].sort((a, b) => a - b)
  const cuts = sorted.flatMap((p, i) => ((i + 1 < sorted.length ? (sorted[i + 1] as number) : (sorted[0] as number) + 1) - p > apart ? [i] : []))
  return cuts.map((cut, k) => {
    const from = (cuts[(k + cuts.length - 1) % cuts.length] as number) + 1
    const wraps = from > cut
    return [...(wraps ? sorted.slice(from).map((p) => p - 1) : []), ...sorted.slice(wraps ? 0 : from, cut + 1)]
  })
}

const countBy = (angles: readonly number[], repeats: number): Count | null => {
  const turns = angles.map((a) => (a * repeats) / TURN)
  const places = placesOf(turns.map((t) => t - Math.floor(t)), (APART * repeats) / angles.length).filter((place) => place.length > SHARED * repeats)
  if (places.length === 0 || places.reduce((sum, place) => sum + place.length, 0) < EXPLAINED * angles.length) return null
  const middles = places.map((place) => place.reduce((sum, p) => sum + p, 0) / place.length)
  const index = turns.map((t) => {
    const nearest = middles.map((m) => m + Math.round(t - m)).sort((a, b) => Math.abs(a - t) - Math.abs(b - t))
    return nearest[0] as number
  })
  return { index, steps: repeats }
}

/** Ways to count that are fitted: the likeliest by a fit of the slow waves alone. */
const FITTED = 3

/** Nats by which a way to count is unlikely, roughly. */
const unlikelihood = (angles: readonly number[], count: Count, basis: readonly (readonly number[])[]): number => {
  const off = angles.map((angle, i) => angle - (TURN * (count.index[i] as number)) / count.steps)
  const waves = solveNormal(basis, off, off.map(() => 1))
  if (waves === null) return Number.POSITIVE_INFINITY
  const left = off.map((v, i) => Math.abs(v - (basis[i] as readonly number[]).reduce((sum, b, j) => sum + b * (waves[j] as number), 0)))
  return angles.length * Math.log(Math.max(1e-5, median(left))) + (placesIn(count) / 2) * Math.log(angles.length) + toSayWhich(count)
}

/**
 * Ways to count marks by the pattern that they repeat, which holds when some are missing or doubled, as a running count does
 * not. Bearings must already be true to a small part of a repeat.
 * @param angles bearings, rad
 * @param waves see alignRepeats
 */
export const repeatCounts = (angles: readonly number[], waves: 2 | 4): Count[] => {
  const basis = angles.map((angle) => twoWaves(angle).slice(0, 1 + waves))
  return gatherings(angles, angles.length + OVERLOOKED)
    .map((strength, repeats) => ({ repeats, strength }))
    .slice(FEWEST)
    .sort((a, b) => b.strength - a.strength)
    .slice(0, LOOKED_INTO)
    .flatMap(({ repeats }) => [angles, alignRepeats(angles, repeats, waves)].flatMap((each) => countBy(each, repeats) ?? []))
    .map((count) => ({ count, unlikely: unlikelihood(angles, count, basis) }))
    .sort((a, b) => a.unlikely - b.unlikely)
    .slice(0, FITTED)
    .map(({ count }) => count)
}
