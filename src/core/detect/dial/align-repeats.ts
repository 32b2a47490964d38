import { cholesky, choleskySolve } from '#core/numeric/cholesky'
import { TURN } from './fit-turn.ts'

/** Marks are looked for within so much of a repeat of where the one before says, and of a turn's slow waves, rad, at first; and within less from round to round. */
const FIRST = 0.15
const SLOW = 0.06
const NARROWER = 0.75
const ROUNDS = 12
/** Beyond so many spreads a pair says nothing. */
const FAR = 3
/** Holds waves to 0 that the pairs leave open. */
const RIDGE = 1e-9

/** The once-, and on request twice-per-turn waves of bearings, one array each. */
const wavesOf = (angles: readonly number[], waves: number): readonly Float64Array[] =>
  [Math.cos, Math.sin, (a: number) => Math.cos(2 * a), (a: number) => Math.sin(2 * a)].slice(0, waves).map((wave) => Float64Array.from(angles, wave))

/** Which bearing follows which, and a turn of them before and behind, in order. */
const goingRound = (angles: Float64Array): { readonly at: Float64Array; readonly which: Int32Array } => {
  const order = Int32Array.from(angles.keys()).sort((i, j) => (angles[i] as number) - (angles[j] as number))
  const n = order.length
  const which = Int32Array.from({ length: 3 * n }, (_, k) => order[k % n] as number)
  return { which, at: Float64Array.from(which, (i, k) => (angles[i] as number) + (Math.floor(k / n) - 1) * TURN) }
}

/** How the waves must change so that pairs a repeat apart lie so, by weights that fall off with how far they are from it; null where they do not tell. */
const changeOf = (angles: Float64Array, basis: readonly Float64Array[], ahead: number, width: number): readonly number[] | null => {
  const { at, which } = goingRound(angles)
  const [n, waves] = [angles.length, basis.length]
  const normal = basis.map((_, p) => basis.map((__, q) => (p === q ? RIDGE : 0)))
  const right = new Array<number>(waves).fill(0)
  const row = new Float64Array(waves)
  for (let k = n, from = 0; k < 2 * n; k++) {
    const target = (at[k] as number) + ahead
    while (from < at.length && (at[from] as number) < target - FAR * width) from++
    for (let m = from; m < at.length && (at[m] as number) < target + FAR * width; m++) {
      const off = (at[m] as number) - target
      const weight = Math.exp(-((off / width) ** 2) / 2)
      for (let p = 0; p < waves; p++) {
        const wave = basis[p] as Float64Array
        row[p] = (wave[which[m] as number] as number) - (wave[which[k] as number] as number)
      }
      for (let p = 0; p < waves; p++) {
        const weighted = weight * (row[p] as number)
        right[p] = (right[p] as number) + weighted * off
        const into = normal[p] as number[]
        for (let q = 0; q <= p; q++) into[q] = (into[q] as number) + weighted * (row[q] as number)
      }
    }
  }
  const lower = cholesky(normal.map((into, p) => into.map((v, q) => (q <= p ? v : ((normal[q] as number[])[p] as number)))))
  return lower && choleskySolve(lower, right)
}

/**
 * Bearings without the slow waves that a motor's pattern, repeated so often in a turn, does not have: what lies a repeat farther on
 * should lie just there, and where it does not, the difference of the waves says by how much. No mark need be counted, and each pair
 * tells only of what is nearby, so that a wave of several marks' distance is found.
 * @param angles bearings, rad
 * @param waves 2 for the once-per-turn wave alone, 4 with the twice-per-turn one
 */
export const alignRepeats = (angles: readonly number[], repeats: number, waves: 2 | 4): readonly number[] => {
  const ahead = TURN / repeats
  const basis = wavesOf(angles, waves)
  const aligned = Float64Array.from(angles)
  for (let round = 0, width = Math.min(FIRST * ahead, SLOW); round < ROUNDS; round++, width *= NARROWER) {
    const change = changeOf(aligned, basis, ahead, width)
    if (change === null) break
    for (let i = 0; i < aligned.length; i++) aligned[i] = basis.reduce((angle, wave, p) => angle - (wave[i] as number) * (change[p] as number), aligned[i] as number)
  }
  return [...aligned]
}
