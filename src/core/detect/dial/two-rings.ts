import { medianOrZero } from '#core/numeric/median'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { mean } from '#core/numeric/moments'

/** Fewer marks than this share of all are no ring of their own. */
const LEAST_SHARE = 0.15
const LEAST_MARKS = 6
/** Each ring begins again so often on the way round: two rings side by side in different directions are one uneven one. */
const LEAST_TURNS = 8

/** Two rings of marks about one centre, in plane units: radii from … to of each. */
export interface TwoRings {
  readonly inner: readonly [from: number, to: number]
  readonly outer: readonly [from: number, to: number]
}

type Radial = Pick<FittedMark, 'bearing' | 'inner' | 'outer'>

const reach = (marks: readonly Radial[]): readonly [number, number] => [medianOrZero(marks.map((m) => m.inner)), medianOrZero(marks.map((m) => m.outer))]

/** The split of radii, sorted by their middles, that leaves least scatter in the two parts. */
const splitOf = (sorted: readonly Radial[]): number => {
  const middles = sorted.map((m) => (m.inner + m.outer) / 2)
  const scatter = (part: readonly number[]): number => {
    const middle = mean(part)
    return part.reduce((sum, v) => sum + (v - middle) ** 2, 0)
  }
  const places = middles.map((_, i) => i).slice(1)
  return places.reduce((best, i) => (scatter(middles.slice(0, i)) + scatter(middles.slice(i)) < scatter(middles.slice(0, best)) + scatter(middles.slice(best)) ? i : best), 1)
}

/**
 * Do the marks lie on two rings, one outside the other and in the same directions, as on a dial with two scales or on a paper used twice?
 * @returns null when one ring holds them
 */
export const twoRings = (marks: readonly Radial[]): TwoRings | null => {
  if (marks.length < 2 * LEAST_MARKS) return null
  const sorted = [...marks].sort((a, b) => a.inner + a.outer - b.inner - b.outer)
  const at = splitOf(sorted)
  const [near, far] = [sorted.slice(0, at), sorted.slice(at)]
  if (Math.min(near.length, far.length) < Math.max(LEAST_MARKS, LEAST_SHARE * marks.length)) return null
  const [inner, outer] = [reach(near), reach(far)]
  if (inner[1] >= outer[0]) return null
  const isFar = new Set(far)
  const round = [...marks].sort((a, b) => a.bearing - b.bearing).map((m) => isFar.has(m))
  const turns = round.filter((ring, i) => ring !== round[(i + 1) % round.length]).length
  return turns < LEAST_TURNS ? null : { inner, outer }
}
