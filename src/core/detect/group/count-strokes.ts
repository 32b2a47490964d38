import { inkProfile, seenWidth } from '#core/detect/stroke/stroke-model'
import { fitGroup, type GroupFit } from './fit-group.ts'
import type { InkRun } from './ink-runs.ts'
import type { GroupFrame, GroupPixels, GroupStroke, Pen } from './stroke-group.ts'
import { mean } from '#core/numeric/moments'

/** More strokes than this are not told apart at once. */
const MOST = 9
/** Pixels of a photo are not independent: paper, JPEG and the pen's grain make about so many tell as much as one. */
const CLUMP = 5
/** A stroke with less of the usual ink than this is none. */
const LEAST_INK = 0.55
/** Strokes closer than this share of their seen width are one. */
const CLOSEST = 0.38

export interface Count {
  readonly fit: GroupFit
  /** Bayesian information criterion in clumps of pixels: lower is better. */
  readonly score: number
}

const strokeAt = (offset: number, usual: number, { halfLength, radius }: GroupFrame, knots: number): GroupStroke => ({
  offset,
  lean: (offset * halfLength) / radius,
  amplitudes: new Array<number>(knots).fill(0.8 * usual),
})

/** Where the residual would best take one more stroke that aims at the shaft. */
const darkestLeft = (pixels: GroupPixels, residuals: Float64Array, frame: GroupFrame, pen: Pen): number => {
  const step = 0.4
  const count = Math.ceil((2 * frame.reach) / step) + 1
  const sums = new Float64Array(count)
  const seen = new Float64Array(count)
  for (let i = 0; i < pixels.count; i++) {
    const tau = pixels.tau[i] as number
    const bin = Math.round(((pixels.s[i] as number) / (1 + (tau * frame.halfLength) / frame.radius) + frame.reach) / step)
    if (bin < 0 || bin >= count) continue
    const weight = pixels.weight[i] as number
    sums[bin] = (sums[bin] as number) - weight * (residuals[i] as number)
    seen[bin] = (seen[bin] as number) + weight
  }
  let best = 0
  let at = 0
  for (let b = 0; b < count; b++) {
    let score = 0
    for (let k = -6; k <= 6; k++) score += seen[b + k] ? inkProfile(k * step, pen.halfWidth, pen.sigma) * ((sums[b + k] as number) / (seen[b + k] as number)) : 0
    if (score > best) {
      best = score
      at = b * step - frame.reach
    }
  }
  return at
}

const byOffset = (strokes: readonly GroupStroke[]): GroupStroke[] => [...strokes].sort((a, b) => a.offset - b.offset)

/** Starts for one stroke more than a fit has. */
const grown = (pixels: GroupPixels, fit: GroupFit, frame: GroupFrame, pen: Pen, usual: number): GroupStroke[][] => {
  const knots = fit.strokes[0]?.amplitudes.length ?? 2
  const inked = [...fit.strokes].sort((a, b) => mean(b.amplitudes) - mean(a.amplitudes))
  const [darkest] = inked
  const aside = 0.3 * seenWidth(pen)
  const more = byOffset([...fit.strokes, strokeAt(darkestLeft(pixels, fit.residuals, frame, pen), usual, frame, knots)])
  if (darkest === undefined) return [more]
  const divided = byOffset([...inked.slice(1), ...[-aside, aside].map((d) => strokeAt(darkest.offset + d, usual, frame, knots))])
  return [more, divided]
}

const admissible = ({ strokes }: GroupFit, pen: Pen, usual: number): boolean => {
  const places = byOffset(strokes).map((s) => s.offset)
  const apart = places.slice(1).every((p, i) => p - (places[i] as number) > CLOSEST * seenWidth(pen))
  return apart && strokes.every((s) => Math.max(...s.amplitudes) > LEAST_INK * usual && mean(s.amplitudes) > 0.5 * LEAST_INK * usual)
}

/** What strokes leave unexplained and what they cost in parameters. @param leaves what is left of one even where it is told right: less tells nothing */
export const scoreOf = ({ cost, strokes }: GroupFit, { weight }: GroupPixels, leaves = 0): number => {
  const independent = weight.reduce((sum, w) => sum + w, 0) / CLUMP
  const parameters = strokes.reduce((sum, s) => sum + 2 + s.amplitudes.length / 2, 0)
  return independent * Math.log(Math.max(0.1, leaves, cost)) + parameters * Math.log(independent)
}

/** The best fit of several starts, admissible ones first. */
const bestOf = (fits: readonly (GroupFit | null)[], pen: Pen, usual: number): { readonly fit: GroupFit; readonly allowed: boolean } | null => {
  const sound = fits.flatMap((fit) => (fit === null ? [] : [{ fit, allowed: admissible(fit, pen, usual) }]))
  return sound.sort((a, b) => Number(b.allowed) - Number(a.allowed) || a.fit.cost - b.fit.cost)[0] ?? null
}

/**
 * How many strokes of one pen lie side by side, and where: from as few as would hardly fill the inked part, one more at a
 * time, until more strokes no longer pay by the Bayesian information criterion.
 * @param usual share of the light that a mark's ink takes
 * @param leaves what one stroke leaves unexplained where it lies by itself
 */
export const countStrokes = (pixels: GroupPixels, { frame, extent }: InkRun, { pen, usual }: { readonly pen: Pen; readonly usual: number }, leaves = 0): Count | null => {
  const knots = Math.max(2, Math.min(5, Math.round((2 * frame.halfLength) / 8) + 1))
  const seen = seenWidth(pen)
  const fewest = Math.max(1, Math.floor((2 * extent) / (2 * seen)))
  const most = Math.min(MOST, Math.ceil((2 * extent) / (0.5 * seen)) + 1)
  const even = (n: number): GroupStroke[] => Array.from({ length: n }, (_, i) => strokeAt(((i + 0.5) / n - 0.5) * 2 * (extent - 0.3 * seen), usual, frame, knots))
  const fitFrom = (start: readonly GroupStroke[]): GroupFit | null => fitGroup(pixels, start, frame, pen, usual)
  let best: Count | null = null
  let last: GroupFit | null = null
  let worse = 0
  for (let n = fewest; n <= most && worse < 2; n++) {
    const [more, divided] = last === null ? [even(n)] : grown(pixels, last, frame, pen, usual)
    let found = bestOf(more === undefined ? [] : [fitFrom(more)], pen, usual)
    if (found?.allowed !== true && divided !== undefined) found = bestOf([found?.fit ?? null, fitFrom(divided), fitFrom(even(n))], pen, usual)
    if (found === null) break
    last = found.fit
    const score = found.allowed ? scoreOf(found.fit, pixels, leaves) : Number.POSITIVE_INFINITY
    worse = best !== null && score >= best.score ? worse + 1 : 0
    if (best === null || score < best.score) best = { fit: found.fit, score }
  }
  return best
}
