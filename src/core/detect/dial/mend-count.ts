import { twoWaves } from '#core/numeric/normal-equations'
import { invertMatrix } from '#core/numeric/solve-linear'
import { type Count, TURN } from './fit-turn.ts'

/** Nats by which a correction must make the bearings likelier, beyond its being one of so many. */
const PLAINLY = 3
/** More are not looked for. */
const MOST = 12

/** One step more, or fewer, from a gap on. */
const corrected = ({ index, steps }: Count, gap: number, by: 1 | -1): Count => ({ index: index.map((k, i) => (i > gap ? k + by : k)), steps: steps + by })

/** Sums of values from the one behind each gap to the last. */
const sumsBehind = (values: readonly number[]): Float64Array => {
  const sums = new Float64Array(values.length)
  for (let i = values.length - 2; i >= 0; i--) sums[i] = (sums[i + 1] as number) + (values[i + 1] as number)
  return sums
}

/** The waves of a turn at each bearing, what each sums to behind every gap, and the inverse of their products. */
interface Waves {
  readonly basis: readonly (readonly number[])[]
  readonly behind: readonly Float64Array[]
  readonly inverse: readonly (readonly number[])[]
}

const wavesAt = (angles: readonly number[], stretched: boolean): Waves | null => {
  const basis = angles.map((angle) => twoWaves(angle).slice(0, stretched ? 5 : 3))
  const columns = (basis[0] ?? []).map((_, j) => basis.map((row) => row[j] as number))
  const inverse = invertMatrix(columns.map((p) => columns.map((q) => dot(p, q))))
  return inverse && { basis, behind: columns.map(sumsBehind), inverse }
}

const dot = (p: ArrayLike<number>, q: ArrayLike<number>): number => {
  let sum = 0
  for (let i = 0; i < p.length; i++) sum += (p[i] as number) * (q[i] as number)
  return sum
}

/** Sum of squares that the waves leave of a count's departures, with so many steps more from each gap on (by one more or fewer in the turn); from the last, where no mark is behind, with the turn's steps alone changed. */
const leftBy = (angles: readonly number[], { index, steps }: Count, by: 1 | 0 | -1, { basis, behind, inverse }: Waves): Float64Array => {
  const step = TURN / (steps + by)
  const off = angles.map((angle, i) => angle - step * (index[i] as number))
  const offBehind = sumsBehind(off)
  const square = dot(off, off)
  const told = inverse.map((_, j) => off.reduce((sum, v, i) => sum + v * ((basis[i] as readonly number[])[j] as number), 0))
  return Float64Array.from(angles, (_, gap) => {
    const shift = by * step
    const parts = told.map((t, j) => t - shift * ((behind[j] as Float64Array)[gap] as number))
    return square - 2 * shift * (offBehind[gap] as number) + shift ** 2 * (angles.length - 1 - gap) - dot(parts, inverse.map((row) => dot(row, parts)))
  })
}

/**
 * A count of steps with what was counted wrongly put right: where one step more, or fewer, in some gap makes all bearings clearly
 * likelier, waves once and twice per turn set aside. A mark missing among steps that scatter is told so, though no gap shows it.
 * @param angles bearings, rad, in order
 * @param stretched whether the twice-per-turn wave is open, too
 */
export const mendCount = (angles: readonly number[], first: Count, stretched: boolean): Count => {
  const waves = wavesAt(angles, stretched)
  if (waves === null) return first
  const likelier = PLAINLY + Math.log(2 * angles.length)
  let now = first
  for (let n = 0; n < MOST; n++) {
    const { index, steps } = now
    const before = leftBy(angles, now, 0, waves)[0] as number
    const inGap = (gap: number): number => (gap + 1 < index.length ? (index[gap + 1] as number) : (index[0] as number) + steps) - (index[gap] as number)
    const tries = ([1, -1] as const).flatMap((by) => Array.from(leftBy(angles, now, by, waves), (left, gap) => ({ left, gap, by })).filter(({ gap }) => by > 0 || inGap(gap) > 0))
    const best = tries.reduce((least, one) => (one.left < least.left ? one : least))
    if ((angles.length / 2) * Math.log(before / Math.max(best.left, 1e-12)) < likelier) return now
    now = corrected(now, best.gap, best.by)
  }
  return now
}
