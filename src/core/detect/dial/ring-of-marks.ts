import { median, quantile } from '#core/numeric/median'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import type { Point } from '#core/detect/raster'
import type { Ring } from './left-round.ts'
import { meanAmplitude } from '#core/detect/stroke/stroke-model'

const TURN = 2 * Math.PI

/** The part of the turn that holds marks, with two usual gaps to either side. */
const spanOf = (marks: readonly FittedMark[]): readonly [from: number, span: number] => {
  const angles = marks.map((m) => m.bearing).sort((a, b) => a - b)
  const gaps = angles.map((a, i) => ((angles[i + 1] ?? (angles[0] as number) + TURN) - a))
  const widest = gaps.indexOf(Math.max(...gaps))
  const usual = median(gaps)
  const from = (angles[(widest + 1) % angles.length] as number) - 2 * usual
  return [from, Math.min(TURN, TURN - (gaps[widest] as number) + 4 * usual)]
}

/** Where marks may still be, and what they look like, as most of those known do. */
export const ringOf = (marks: readonly FittedMark[], centre: Point): Ring => {
  const [from, span] = spanOf(marks)
  const inner = quantile(marks.map((m) => m.inner), 0.6)
  const outer = quantile(marks.map((m) => m.outer), 0.35)
  const usual = quantile(marks.map((m) => m.outer - m.inner), 0.5)
  const [low, high] = outer - inner > 0.45 * usual ? [inner, outer] : [(inner + outer) / 2 - 0.25 * usual, (inner + outer) / 2 + 0.25 * usual]
  const middle = (get: (m: FittedMark) => number): number => quantile(marks.map(get), 0.5)
  return {
    centre,
    inner: low,
    outer: high,
    halfWidthPx: middle((m) => m.fit.model.halfWidth),
    sigmaPx: middle((m) => m.fit.model.sigma),
    amplitude: middle((m) => meanAmplitude(m.fit.model)),
    from,
    span,
  }
}
