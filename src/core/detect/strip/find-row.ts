import type { Candidate } from '#core/detect/line/candidate'
import { type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { medianOrZero } from '#core/numeric/median'
import { fitSlope } from '#core/numeric/fit-slope'

/** A candidate on a strip, in the plane: place along the row, height across it. */
export interface Rung {
  readonly candidate: Candidate
  readonly place: number
  readonly low: number
  readonly high: number
  /** Direction of the stroke less the rungs' common direction, rad. */
  readonly lean: number
  readonly width: number
}

export interface Row {
  /** Unit vector along the row, in the plane. */
  readonly along: Point
  readonly rungs: readonly Rung[]
}

const lineAngle = (a: number, b: number): number => {
  const d = (((a - b) % Math.PI) + Math.PI) % Math.PI
  return d > Math.PI / 2 ? d - Math.PI : d
}

/** Greatest lean of a stroke against its neighbours, rad. */
const MOST_LEAN = 0.16

interface Seen {
  readonly candidate: Candidate
  readonly a: Point
  readonly b: Point
  readonly angle: number
  readonly worth: number
}

/** A line longer than most says up to so many times as much of the common direction: pencil's grain and letters are short, and many. */
const LONG_SAYS = 5

/** The direction most strokes share, each tenth of a typical length of row counted once. */
const commonDirection = (seen: readonly Seen[]): number | null => {
  let best: number | null = null
  let most = 0
  for (let deg = 0; deg < 180; deg += 1.5) {
    const angle = (deg * Math.PI) / 180
    const places = new Map<number, number>()
    for (const { candidate, a, b, angle: own, worth } of seen) {
      const off = lineAngle(own, angle) / (0.05 + 1 / candidate.lengthPx)
      if (Math.abs(off) > 2) continue
      const across = ((a[0] + b[0]) / 2) * Math.sin(angle) - ((a[1] + b[1]) / 2) * Math.cos(angle)
      const bin = Math.round(across / Math.max(1e-9, 1.5 * candidate.widthPx * (Math.hypot(b[0] - a[0], b[1] - a[1]) / candidate.lengthPx)))
      places.set(bin, Math.max(places.get(bin) ?? 0, worth * Math.exp(-off * off)))
    }
    const score = [...places.values()].reduce((sum, v) => sum + v, 0)
    if (score > most) {
      most = score
      best = angle
    }
  }
  return most >= 2 ? best : null
}

const upright = ({ lean, candidate }: Rung, usual: number): boolean => Math.abs(lean - usual) < MOST_LEAN + 1.2 / candidate.lengthPx

/** How the strokes' direction turns along the row, as perspective makes it: lean = a + b·place, long strokes counting most. */
const fanOf = (rungs: readonly Rung[]): ((place: number) => number) => {
  let fan = (_: number): number => 0
  for (let round = 0; round < 3; round++) {
    const near = rungs.filter((r) => Math.abs(r.lean - fan(r.place)) < (round === 0 ? MOST_LEAN : 0.6 * MOST_LEAN))
    if (near.length < 8) return fan
    const { mean, height, slope } = fitSlope(near.map((r) => r.place), near.map((r) => r.lean), near.map((r) => (r.high - r.low) ** 2 * r.candidate.depth))
    fan = (place) => height + (slope || 0) * (place - mean)
  }
  return fan
}

/**
 * The strokes that stand parallel beside each other, as light-spot marks on a wall do. Row direction: at right angles to the
 * strokes' common one, turned so that it runs to the right as seen, or downwards where it is nearer upright.
 * @param usual depth of the picture's darker lines, so that faint ones count for less
 * @returns null when no two share a direction
 */
export const findRow = (candidates: readonly Candidate[], map: PlaneMap, usual: number): Row | null => {
  const length = medianOrZero(candidates.map((c) => c.lengthPx))
  const seen = candidates.map((candidate): Seen => {
    const a = toPlane(map, candidate.p0)
    const b = toPlane(map, candidate.p1)
    return { candidate, a, b, angle: Math.atan2(b[1] - a[1], b[0] - a[0]), worth: (0.2 + 0.8 * Math.min(1, (1.6 * candidate.depth) / usual)) * Math.max(1, Math.min(LONG_SAYS, candidate.lengthPx / length)) }
  })
  const direction = commonDirection(seen)
  if (direction === null) return null
  const sine = Math.sin(direction)
  const cosine = Math.cos(direction)
  const sign = (Math.abs(sine) >= Math.SQRT1_2 ? sine : -cosine) > 0 ? 1 : -1
  const along: Point = [sign * sine, -sign * cosine]
  const across: Point = [-along[1], along[0]]
  const all = seen.map(({ candidate, a, b, angle }): Rung => {
    const heights = [a, b].map((p) => p[0] * across[0] + p[1] * across[1]) as [number, number]
    const length = Math.hypot(b[0] - a[0], b[1] - a[1])
    return { candidate, place: ((a[0] + b[0]) * along[0] + (a[1] + b[1]) * along[1]) / 2, low: Math.min(...heights), high: Math.max(...heights), lean: lineAngle(angle, direction), width: (candidate.widthPx * length) / candidate.lengthPx }
  })
  const fan = fanOf(all.filter((r) => upright(r, 0)))
  const rungs = all.filter((r) => upright(r, fan(r.place)))
  return { along, rungs }
}

/** Rise of the row against the strokes' upright: hands slant their strokes by up to some 25° (common practice, no source). */
const STEEPEST = 0.5

/**
 * Height h = a + b·place that passes through the most rungs, each weighed by its darkness and the square of its length: a printed ruler has more
 * ticks than there are marks, but shorter ones. */
export const spine = (rungs: readonly Rung[]): ((place: number) => number) => {
  let best = (_: number): number => 0
  let most = -1
  const step = Math.max(1, Math.floor(rungs.length / 60))
  for (let i = 0; i < rungs.length; i += step) {
    for (let j = 0; j < rungs.length; j += step) {
      const [p, q] = [rungs[i] as Rung, rungs[j] as Rung]
      const slope = i === j ? 0 : ((q.low + q.high - p.low - p.high) / 2) / (q.place - p.place)
      if (!(Math.abs(slope) < STEEPEST)) continue
      const at = (place: number): number => (p.low + p.high) / 2 + slope * (place - p.place)
      const worth = rungs.reduce((sum, r) => sum + (at(r.place) > r.low && at(r.place) < r.high ? r.candidate.depth * (r.high - r.low) ** 2 : 0), 0)
      if (worth > most) {
        most = worth
        best = at
      }
    }
  }
  return best
}

/** Strokes fainter than this share of the usual one are rules and squares rather than the pen's. */
const DARK = 0.4

/** The strokes that may be the pen's by their darkness. */
export const darkOf = (rungs: readonly Rung[], usual: number): Rung[] => rungs.filter((r) => r.candidate.depth > DARK * usual)

/** Marks standing in one row: dark strokes of like length that one line passes through. */
const inOneRow = (rungs: readonly Rung[], usual: number): Rung[] => {
  const dark = darkOf(rungs, usual)
  const line = spine(dark)
  const through = dark.filter((r) => line(r.place) > r.low && line(r.place) < r.high)
  const length = medianOrZero(through.map((r) => r.high - r.low))
  return through.filter((r) => r.high - r.low > 0.5 * length && r.high - r.low < 2 * length)
}

/** The strokes of the fullest row. */
export const fullestRow = (candidates: readonly Candidate[], map: PlaneMap, usual: number): Rung[] => {
  const row = findRow(candidates, map, usual)
  return row === null ? [] : inOneRow(row.rungs, usual)
}

/** How many places strokes stand at. */
export const placesOf = (rungs: readonly Rung[]): number => new Set(rungs.map((r) => Math.round(r.place / (1.5 * r.width)))).size

/**
 * How many strokes stand in the fullest row.
 * @param usual depth of the picture's darker lines; much fainter strokes do not count
 */
export const strokesInRow = (candidates: readonly Candidate[], map: PlaneMap, usual: number): number => placesOf(fullestRow(candidates, map, usual))
