import { medianOrZero, robustSpread } from '#core/numeric/median'
import { mean, standardDeviation } from '#core/numeric/moments'
import { goesOn, ON } from '#core/detect/stroke/around-stroke'
import { inkProfile, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { type Left, leftRound, modelAt, type Ring, type View } from './left-round.ts'

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
/** From so far on, in half widths with their blur, what is left beside a known mark is not its own ink; from so far on it lies on bare paper; and so far on it is among the marks. */
const BESIDE = 1.2
const BARE = 3
const AMONG = 4

/** How much like a stroke on paper something must be. */
interface Shape {
  /** The paper on one side of it is more than this share as much brighter than it as that on the other: not so along an edge. */
  readonly sides: number
  /** What is seen on either side is less than this share of it: not so between two things. */
  readonly beside: number
  /** Its four pieces' darkness spreads by no more than this share of their mean. */
  readonly spread: number
}

/** What is fainter than counts everywhere does so on bare paper where it stands out and has this shape. */
const LONE: Shape = { sides: 0.5, beside: 0.5, spread: Infinity }
/** And among the marks, however rough the paper, where it is a line all along: neither grain is, nor what is left of a mark that bends (seen on outside photos; no source). */
const LINE: Shape = { sides: 0.35, beside: 0.6, spread: 0.7 }

/** Darkness that counts on bare paper: one that stands out from what else is there. */
const leastOnPaper = (score: readonly number[], { least }: Wanted): number => {
  const level = medianOrZero(score)
  const spread = robustSpread(score, level)
  return Math.max(FAINTEST, Math.min(least, STANDS_OUT * spread))
}

/** How much like a mark's ink it is at each bearing, 1 where it is as dark. */
export const scoreOf = ({ dark, step, ring }: Left, short: boolean): number[] => matched(dark.map((pieces) => shared(pieces, short)), step, ring)

/** Where the score is greatest within a stroke's width, of places that count. */
export const topsOf = (score: readonly number[], { step, ring }: Left, counts: (i: number) => boolean): number[] => {
  const apart = Math.max(1, Math.round((0.9 * ring.halfWidthPx + 0.5 * ring.sigmaPx) / step))
  return score.flatMap((here, i) => (!counts(i) || here < Math.max(...score.slice(Math.max(0, i - apart), i + apart + 1)) ? [] : [i]))
}

/** The usual mark at one of so many bearings. */
export const markAt = ({ map, ring }: Pick<Left, 'map' | 'ring'>, i: number, count: number): StrokeModel => modelAt(map, ring, ring.from + (i / count) * ring.span)

/** Does a line go on there beyond where the longest marks end? */
const goesOnAt = ({ raster, map, ring }: Left, i: number, count: number): boolean => {
  const [inner, outer] = ring.longest ?? [ring.inner, ring.outer]
  return goesOn(raster, markAt({ map, ring: { ...ring, inner, outer } }, i, count)) >= ON
}

/** What is still there and looks like a mark: faint ones, ones beside or across others. */
export const overlooked = (left: Left, wanted: Wanted): StrokeModel[] => {
  const { ring, step, dark, light, clearance } = left
  const score = scoreOf(left, wanted.short)
  const onPaper = leastOnPaper(score, wanted)
  const far = Math.round((BARE * (ring.halfWidthPx + ring.sigmaPx)) / step)
  const isShaped = (i: number, { sides, beside, spread }: Shape): boolean => {
    const aside = [i - far, i + far]
    const [one, other] = aside.map((k) => (light[k] ?? 0) - (light[i] as number)) as [number, number]
    const pieces = dark[i] as readonly number[]
    return Math.min(one, other) > sides * Math.max(one, other) && aside.every((k) => Math.abs(score[k] ?? 1) < beside * (score[i] as number)) && !(standardDeviation(pieces) > spread * mean(pieces))
  }
  const counts = (i: number): boolean => {
    const [here, clear] = [score[i] as number, clearance[i] as number]
    if (here >= wanted.least) return true
    if (here >= onPaper && clear >= BARE && isShaped(i, LONE)) return true
    return here >= FAINTEST && clear >= BESIDE && clear < AMONG && isShaped(i, LINE)
  }
  return topsOf(score, left, counts).flatMap((i) => ((score[i] as number) >= wanted.least || !goesOnAt(left, i, score.length) ? [markAt(left, i, score.length)] : []))
}

/** The same in one go. */
export const lookAgain = (view: View, ring: Ring, known: readonly StrokeModel[], wanted: Wanted): StrokeModel[] => overlooked(leftRound(view, ring, known), wanted)
