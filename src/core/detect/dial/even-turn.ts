import { median } from '#core/numeric/median'
import { mean } from '#core/numeric/moments'
import { bearing } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { repeatCounts } from './repeat-count.ts'
import { mendCount } from './mend-count.ts'
import { type Count, type EvenTurn, fitCount, seen, TURN } from './fit-turn.ts'

const LEAST_MARKS = 12

const running = (gaps: readonly number[], roundOff: (gap: number, i: number) => number): Count => {
  const index = [0]
  gaps.forEach((gap, i) => index.push((index[i] as number) + roundOff(gap, i)))
  return { index: index.slice(0, -1), steps: index[gaps.length] as number }
}

/** Departures from even steps, in steps, that a motor may show; and slow waves that a true count may leave. */
const MOST_UNEVEN = 1.2
const MOST_SLOW = 4
/** A bend of the paper leaves slow waves, too: as if so many marks were counted wrongly, at most. */
const MOST_MISCOUNTED = 4

/** Three ways to count: gaps in units of their neighbours' median; one each; one each but near-doubles share one. */
const counts = (gaps: readonly number[]): Count[] => {
  const usual = median(gaps)
  const local = gaps.map((_, i) => median(Array.from({ length: 11 }, (__, k) => gaps[(i + k - 5 + gaps.length) % gaps.length] as number)))
  return [
    running(gaps, (gap, i) => Math.round(gap / (local[i] as number))),
    running(gaps, () => 1),
    running(gaps, (gap) => (gap < 0.35 * usual ? 0 : 1)),
  ]
}

/** A part of the turn without marks that is wider than this may be the unmarked rest of an arc, rad. */
const WIDEST = 0.9
/** Marks count as repeating when they keep their places in the pattern to this share of a repeat, and to less where a gap too wide to be counted by steps leaves nothing else to say so (seen on rendered turns; no source). */
const GATHERED = 0.12
const GATHERED_ALONE = 0.05

/** With steps added and taken away even what lies anywhere comes within a third of one; what was miscounted scatters by less. */
const MENDED = 0.19

/** Then it stays open whether a step more or fewer is right, which makes a wave of one step/(π·n) n times a turn. */
const withStepOpen = (turn: EvenTurn, points: readonly Point[]): EvenTurn => {
  const wave = TURN / turn.steps / Math.PI
  const radius = mean(points.map(([x, y]) => Math.hypot(x - turn.centre[0], y - turn.centre[1])))
  const more = (wave * radius) ** 2 / 2
  const [xx, xy, yy] = turn.covariance
  return { ...turn, covariance: [xx + more, xy, yy + more], uStretch: turn.uStretch > 0 ? Math.hypot(turn.uStretch, wave / 2 / Math.SQRT2) : 0 }
}

/** Counting by the repeats of the pattern gets better as the turn gets truer: so often at most. */
const REFINED = 3

/** Do two ways to count come to the same, wherever they begin? */
const sameCount = (a: Count, b: Count): boolean => {
  const ahead = (a.index[0] as number) - (b.index[0] as number)
  return a.steps === b.steps && a.index.every((k, i) => Math.abs(k - (b.index[i] as number) - ahead) < 1e-9)
}

/** The likeliest fit. */
const clearest = (fits: readonly (EvenTurn | null)[]): EvenTurn | null => fits.flatMap((fit) => fit ?? []).sort((a, b) => a.unlikely - b.unlikely)[0] ?? null

/** The likeliest count; null when none fits. */
const bestCount = (all: readonly Count[], points: readonly Point[], start: Point, stretched: boolean): EvenTurn | null => {
  const different = all.filter((count, i) => all.findIndex((other) => sameCount(count, other)) === i)
  const fits = different.flatMap((count) => (points.length < LEAST_MARKS ? [] : (fitCount(points, count, start, stretched) ?? [])))
  return clearest(fits.filter((fit) => fit.residual <= (MOST_UNEVEN * TURN) / fit.steps && fit.uneven <= MOST_SLOW))
}

/**
 * Centre, and on request the stretch, that make a full turn of marks even: the once- and twice-per-turn terms are the rig's
 * and the camera's, not the motor's.
 * @param points middles of the marks' ink in the plane, in any order
 * @returns null when the marks do not go round, are fewer than 12, or are not even enough to count
 */
export const evenTurn = (points: readonly Point[], start: Point, stretched: boolean): EvenTurn | null => {
  if (points.length < LEAST_MARKS) return null
  const sorted = [...points].sort((p, q) => bearing(start, p) - bearing(start, q))
  const angles = sorted.map((p) => bearing(start, p))
  const gaps = angles.map((angle, i) => (i + 1 < angles.length ? (angles[i + 1] as number) : (angles[0] as number) + TURN) - angle)
  if (Math.max(...gaps) > WIDEST) return null
  // Across a wide gap gaps cannot be counted, and uneven ones badly, but the repeats of the pattern go on.
  const wide = Math.max(...gaps) > Math.max(4.5 * median(gaps), 0.2)
  const steps = wide ? [] : counts(gaps)
  const mended = steps.map((count) => mendCount(angles, count, stretched)).filter((count) => !steps.some((other) => sameCount(count, other)))
  const waves = stretched ? 4 : 2
  const repeats = repeatCounts(angles, waves)
  const repeated = bestCount(repeats, sorted, start, stretched)
  const gathered = repeated !== null && repeated.residual <= ((wide ? GATHERED_ALONE : GATHERED) * TURN) / repeated.steps
  const tried: Count[] = [...steps, ...mended, ...(gathered ? repeats : [])]
  const [counted, better] = [bestCount(steps, sorted, start, stretched), bestCount(mended, sorted, start, stretched)]
  const isMended = better !== null && better.residual <= (MENDED * TURN) / better.steps
  const open = counted !== null && better !== null && !isMended && better.unlikely < counted.unlikely
  let best = clearest([open ? withStepOpen(counted, sorted) : counted, isMended ? better : null, gathered ? repeated : null])
  for (let round = 0; round < REFINED && best !== null; round++) {
    const { centre, stretch } = best
    const fresh = repeatCounts(sorted.map((p) => seen(p, [centre[0], centre[1], ...stretch])), waves).filter((count) => !tried.some((other) => sameCount(count, other)))
    tried.push(...fresh)
    const truer = bestCount(fresh, sorted, start, stretched)
    if (truer === null || truer.unlikely >= best.unlikely) break
    best = truer
  }
  // A count that may be wrong here and there still tells the centre, but a tilt would be made of it.
  return stretched && best !== null && best.miscounted > MOST_MISCOUNTED ? null : best
}
