import { bearing, type PlaneMap } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { type Left, leftRound } from '#core/detect/dial/left-round'
import { type Hinted, leftOver } from '#core/detect/dial/left-over'
import { overlooked as unexplained } from '#core/detect/dial/second-look'
import { meanAmplitude, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { medianOrZero, quantile } from '#core/numeric/median'
import type { StripMark } from './strip-marks.ts'

/** A row seen as a very large dial: its centre so far below that bearings are places. */
const FAR = 1e6

/** Share of the marks that reach across the band that is looked at, and so much of their common length. */
const MOST = 0.75
const INNER = 0.6
/** And this share of them is no longer than the long ones. */
const LONG = 0.9

/** The band across the row that most marks reach across, as ticks of several lengths have one end in common; about their middles where they wander. */
const bandOf = (marks: readonly StripMark[], across: Point): { readonly middle: number; readonly half: number } => {
  const middles = marks.map(({ middle }) => middle[0] * across[0] + middle[1] * across[1])
  const length = medianOrZero(marks.map((m) => m.length))
  const [low, high] = [-1, 1].map((end) => end * quantile(marks.map((m, i) => m.length / 2 + end * (middles[i] as number)), 1 - MOST)) as [number, number]
  return high - low < length / 3 ? { middle: medianOrZero(middles), half: (INNER * length) / 2 } : { middle: (low + high) / 2, half: (INNER * (high - low)) / 2 }
}

/**
 * Centre of the very large dial that a row is seen as, plane.
 * @param middle of the marks, across the row
 */
export const farBelow = (marks: readonly StripMark[], along: Point, middle = 0): Point => {
  const place = medianOrZero(marks.map((m) => m.place))
  return [along[0] * place + along[1] * (middle - FAR), along[1] * place - along[0] * (middle - FAR)]
}

/** What is left of a row where its marks' ink is taken out, to two gaps beyond its ends. */
const leftAlongRow = (raster: Raster, marks: readonly StripMark[], map: PlaneMap, along: Point): Left => {
  const across: Point = [along[1], -along[0]]
  const places = marks.map((m) => m.place)
  const { middle, half: reach } = bandOf(marks, across)
  const place = medianOrZero(places)
  const centre = farBelow(marks, along, middle)
  const gap = medianOrZero(places.slice(1).map((p, i) => p - (places[i] as number)))
  const right = bearing(centre, [centre[0] + across[0] * FAR + along[0], centre[1] + across[1] * FAR + along[1]])
  const up = bearing(centre, [centre[0] + across[0] * FAR, centre[1] + across[1] * FAR])
  const half = (Math.max(...places) - Math.min(...places)) / 2 + 2 * gap
  const centred = (Math.max(...places) + Math.min(...places)) / 2 - place
  const turn = right > up ? 1 : -1
  const long = quantile(marks.map((m) => m.length), LONG) / 2
  const shape = (get: (m: StripMark) => number): number => medianOrZero(marks.map(get))
  return leftRound({ raster, map }, {
    centre,
    inner: FAR - reach,
    outer: FAR + reach,
    halfWidthPx: shape((m) => m.fit.model.halfWidth),
    sigmaPx: shape((m) => m.fit.model.sigma),
    amplitude: shape((m) => meanAmplitude(m.fit.model)),
    from: up + (turn * centred - half) / FAR,
    span: (2 * half) / FAR,
    longest: [FAR - Math.max(reach, long), FAR + Math.max(reach, long)],
  }, marks.map((m) => m.fit.model))
}

type Look = Parameters<typeof leftAlongRow>

/** Places along the row that hold ink no mark explains yet, as first models. */
export const overlooked = (...row: Look): StrokeModel[] => unexplained(leftAlongRow(...row), { least: 0.45, short: false })

/** Places along the row that may hold a mark that was not read. */
export const leftOut = (...row: Look): Hinted[] => leftOver(leftAlongRow(...row))
