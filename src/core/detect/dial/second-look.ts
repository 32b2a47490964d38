import { medianOrZero, robustSpread } from '#core/numeric/median'
import { goesOn, ON } from '#core/detect/stroke/around-stroke'
import { inkProfile, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { CLEAR, type Left, leftRound, modelAt, type Ring, type View } from './left-round.ts'

/** Ink on two pieces that follow each other, half of the ring, counts for this much of what ink on three would: a shorter stroke, but also a scratch. */
const HALF = 0.75

/** What counts as overlooked. */
export interface Wanted {
  /** Darkness as a share of the usual mark's that counts whatever the paper is like; where it is quiet, less does. */
  readonly least: number
  /** Also strokes on no more than half of the ring, when they are the darker for it? */
  readonly short: boolean
}

/** Darkness that at least three of the four pieces share, or, when short strokes are wanted and counted for less, two that follow each other. */
const shared = (dark: readonly number[], short: boolean): number => {
  const three = [...dark].sort((a, b) => a - b)[1] as number
  if (!short) return three
  const two = Math.max(...dark.slice(1).map((d, c) => Math.min(d, dark[c] as number)))
  return Math.max(three, HALF * two)
}

/** Correlation with the usual ink profile, so that 1 is a mark of the usual darkness. */
const matched = (dark: readonly number[], step: number, { halfWidthPx, sigmaPx, amplitude }: Ring): number[] => {
  const half = Math.ceil((halfWidthPx + 2 * sigmaPx) / step)
  const profile = Array.from({ length: 2 * half + 1 }, (_, k) => inkProfile((k - half) * step, halfWidthPx, sigmaPx))
  const energy = profile.reduce((sum, p) => sum + p * p, 0) * amplitude
  return dark.map((_, i) => profile.reduce((sum, p, k) => sum + p * (dark[i + k - half] ?? 0), 0) / energy)
}

/** Nothing paler than this share of the usual mark is one, however quiet the paper. */
const FAINTEST = 0.22
/** So many spreads of what is left on the paper stand out from it: grain and JPEG leave seldom more than five. */
const STANDS_OUT = 10
/** Paper on one side of a stroke is at least this share as much brighter than it as that on the other, and what is seen there less than this share of it: not so along an edge, or between two things. */
const EVEN = 0.5

/** Darkness that counts on bare paper: one that stands out from what else is there. */
const leastOnPaper = (score: readonly number[], { least }: Wanted): number => {
  const level = medianOrZero(score)
  const spread = robustSpread(score, level)
  return Math.max(FAINTEST, Math.min(least, STANDS_OUT * spread))
}

/** What is still there and looks like a mark: faint ones, ones beside or across others. */
export const overlooked = ({ raster, map, ring, step, dark, light, bare }: Left, wanted: Wanted): StrokeModel[] => {
  const score = matched(dark.map((pieces) => shared(pieces, wanted.short)), step, ring)
  const onPaper = leastOnPaper(score, wanted)
  const count = score.length
  const found: StrokeModel[] = []
  const apart = Math.max(1, Math.round((0.9 * ring.halfWidthPx + 0.5 * ring.sigmaPx) / step))
  const aside = Math.round((CLEAR * (ring.halfWidthPx + ring.sigmaPx)) / step)
  const standsAlone = (i: number): boolean => {
    const sides = [i - aside, i + aside]
    const [one, other] = sides.map((k) => (light[k] ?? 0) - (light[i] as number)) as [number, number]
    return bare[i] === true && Math.min(one, other) > EVEN * Math.max(one, other) && sides.every((k) => Math.abs(score[k] ?? 1) < EVEN * (score[i] as number))
  }
  for (let i = 0; i < count; i++) {
    const here = score[i] as number
    if (here < onPaper || (here < wanted.least && !standsAlone(i))) continue
    if (here < Math.max(...score.slice(Math.max(0, i - apart), i + apart + 1))) continue
    const model = modelAt(map, ring, ring.from + (i / count) * ring.span)
    if (here >= wanted.least || goesOn(raster, model) < ON) found.push(model)
  }
  return found
}

/** The same in one go. */
export const lookAgain = (view: View, ring: Ring, known: readonly StrokeModel[], wanted: Wanted): StrokeModel[] => overlooked(leftRound(view, ring, known), wanted)
