import { twoWaves, solveNormal } from '#core/numeric/normal-equations'
import { TURN } from './fit-turn.ts'

/** Marks are looked for within so much of a repeat of where the one before says, at first, and within less from round to round. */
const FIRST = 0.15
const NARROWER = 0.75
const ROUNDS = 12
/** Beyond so many spreads a pair says nothing. */
const FAR = 3

/** The once-, and on request twice-per-turn waves of a bearing. */
const wavesAt = (angle: number, waves: number): readonly number[] => twoWaves(angle).slice(1, 1 + waves)

/** Bearings with a turn of them before and behind, in order. */
const goingRound = (angles: readonly number[]): readonly (readonly [angle: number, which: number])[] =>
  [-1, 0, 1].flatMap((turn) => angles.map((angle, i) => [angle + turn * TURN, i] as const)).sort((a, b) => a[0] - b[0])

/**
 * Bearings without the slow waves that a motor's pattern, repeated so often in a turn, does not have: what lies a repeat farther on
 * should lie just there, and where it does not, the difference of the waves says by how much. No mark need be counted, and each pair
 * tells only of what is nearby, so that a wave of several marks' distance is found.
 * @param angles bearings, rad
 * @param waves 2 for the once-per-turn wave alone, 4 with the twice-per-turn one
 */
export const alignRepeats = (angles: readonly number[], repeats: number, waves: 2 | 4): readonly number[] => {
  const ahead = TURN / repeats
  const basis = angles.map((angle) => wavesAt(angle, waves))
  let parameters: readonly number[] = new Array<number>(waves).fill(0)
  const aligned = (): number[] => angles.map((angle, i) => angle - (basis[i] as readonly number[]).reduce((sum, b, j) => sum + b * (parameters[j] as number), 0))
  for (let round = 0, width = FIRST * ahead; round < ROUNDS; round++, width *= NARROWER) {
    const now = aligned()
    const all = goingRound(now)
    const rows: number[][] = []
    const off: number[] = []
    const weights: number[] = []
    let from = 0
    for (const [angle, i] of all.slice(angles.length, 2 * angles.length)) {
      while (from < all.length && (all[from] as readonly [number, number])[0] < angle + ahead - FAR * width) from++
      for (let k = from; k < all.length && (all[k] as readonly [number, number])[0] < angle + ahead + FAR * width; k++) {
        const [other, j] = all[k] as readonly [number, number]
        rows.push((basis[j] as readonly number[]).map((b, m) => b - ((basis[i] as readonly number[])[m] as number)))
        off.push(other - angle - ahead)
        weights.push(Math.exp(-((other - angle - ahead) ** 2) / (2 * width ** 2)))
      }
    }
    const change = rows.length > waves ? solveNormal(rows, off, weights, 1e-9) : null
    if (change === null) break
    parameters = parameters.map((p, m) => p + (change[m] as number))
  }
  return aligned()
}
