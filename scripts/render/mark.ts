import type { Ink } from './ink.ts'
import type { Mm, Stroke } from './ink-sheet.ts'
import type { Random } from './random.ts'

/** One mark as a hand means to draw it: along a direction, from one radius to another about the shaft. */
export interface PlannedMark {
  /** Commands that ended here. */
  readonly commands: readonly number[]
  /** Where the shaft pointed, deg counter-clockwise as seen on the upright sheet from its right-hand direction. */
  readonly bearingDeg: number
  readonly innerMm: number
  readonly outerMm: number
}

/** How steady the hand is and what it writes with. */
export interface Hand {
  readonly ink: Ink
  readonly widthMm: number
  readonly density: number
  /** Sideways scatter of a whole mark, standard deviation, mm. */
  readonly scatterMm: number
  /** Off-radial lean, standard deviation, deg. */
  readonly leanDeg: number
  /** Wobble within a mark, mm. */
  readonly wobbleMm: number
}

/** Paper direction (y down) of a bearing. */
export const directionOf = (bearingDeg: number): Mm => {
  const a = (bearingDeg * Math.PI) / 180
  return [Math.cos(a), -Math.sin(a)]
}

/** Bearing of a point about a centre, deg counter-clockwise as seen, 0 … 360. */
export const bearingOf = (centre: Mm, point: Mm): number => {
  const a = (Math.atan2(centre[1] - point[1], point[0] - centre[0]) * 180) / Math.PI
  return a < 0 ? a + 360 : a
}

/** The pen's path for a planned mark. */
export const drawMark = (random: Random, centre: Mm, mark: PlannedMark, hand: Hand): Stroke => {
  const [dx, dy] = directionOf(mark.bearingDeg)
  const length = mark.outerMm - mark.innerMm
  const aside = hand.scatterMm * random.normal()
  const lean = Math.tan((hand.leanDeg * random.normal() * Math.PI) / 180)
  const waves = [1, 2, 3].map((n) => ({ n, a: (hand.wobbleMm * random.normal()) / n, p: random.range(0, 6.28) }))
  const pressure = [random.range(0, 6.28), random.range(0, 6.28)] as const
  const count = Math.max(6, Math.ceil(length / 0.8))
  const steps = Array.from({ length: count + 1 }, (_, i) => i / count)
  const offset = (t: number): number =>
    aside + lean * (t - 0.5) * length + waves.reduce((s, w) => s + w.a * Math.sin(w.n * Math.PI * t + w.p), 0)
  const rough = hand.wobbleMm > 0 ? 1 : 0
  return {
    ink: hand.ink,
    points: steps.map((t) => {
      const along = mark.innerMm + t * length
      return [centre[0] + dx * along - dy * offset(t), centre[1] + dy * along + dx * offset(t)]
    }),
    widthMm: steps.map((t) => hand.widthMm * (1 + rough * 0.07 * Math.sin(9 * t + pressure[0]))),
    density: steps.map((t) => hand.density * (1 + rough * (0.15 * Math.sin(7 * t + pressure[1]) - 0.25 * t * t + (t < 0.08 ? 0.3 : 0)))),
  }
}
