import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { Point } from '#core/detect/raster'
import { amplitudeAt, seenWidth, strokeBetween, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { type ChosenPen, darknessOf } from './choose-pen.ts'
import { type GroupFit, offsetDoubts } from './fit-group.ts'
import type { InkRun } from './ink-runs.ts'
import { amplitudeOf } from './ink-law.ts'
import type { GroupStroke } from './stroke-group.ts'

/** A stroke has ended where it is paler than this share of its darkness. */
const ENDS_AT = 0.42

/** Where the stroke begins and ends, in τ of the frame. */
const endsOf = (stroke: GroupStroke): readonly [number, number] => {
  const limit = ENDS_AT * darknessOf(stroke)
  const taus = Array.from({ length: 41 }, (_, i) => i / 20 - 1).filter((tau) => amplitudeAt(stroke.amplitudes, tau) > limit)
  return [taus[0] ?? -1, taus[taus.length - 1] ?? 1]
}

/** How far a straight stroke may miss the middle of a hand-drawn one, as a share of its seen width (rendered groups: 0.05). */
const WOBBLE = 0.05

/** A group's stroke as a stroke by itself. */
const modelOf = (stroke: GroupStroke, { frame }: InkRun, { pen }: ChosenPen, paper: number): StrokeModel => {
  const [from, to] = endsOf(stroke)
  const at = (tau: number): Point => {
    const t = tau * frame.halfLength
    const s = stroke.offset + stroke.lean * tau
    return [frame.middle[0] + t * frame.along[0] - s * frame.along[1], frame.middle[1] + t * frame.along[1] + s * frame.along[0]]
  }
  const amplitudes = stroke.amplitudes.map((_, i) => amplitudeOf(amplitudeAt(stroke.amplitudes, from + ((to - from) * i) / (stroke.amplitudes.length - 1)), pen, paper))
  return strokeBetween(at(from), at(to), { ...pen, amplitudes })
}

/**
 * A group's strokes as fits by themselves, those that lie in the run's own ink.
 * @param clumping taken over from strokes fitted one by one
 */
export const strokesOf = (fit: GroupFit, run: InkRun, chosen: ChosenPen, clumping: number): StrokeFit[] => {
  const doubts = offsetDoubts(fit)
  return fit.strokes.flatMap((stroke, j): StrokeFit[] =>
    Math.abs(stroke.offset) > run.extent ? [] : [{ model: modelOf(stroke, run, chosen, fit.paper), noise: fit.noise, uOffset: Math.hypot(doubts[j] as number, (WOBBLE * seenWidth(chosen.pen)) / Math.sqrt(clumping)), outliers: 0, clumping, paper: fit.paper }],
  )
}

