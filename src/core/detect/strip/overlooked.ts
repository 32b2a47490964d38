import { bearing, type PlaneMap } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { lookAgain } from '#core/detect/dial/second-look'
import { meanAmplitude, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { medianOrZero } from '#core/numeric/median'
import type { StripMark } from './strip-marks.ts'

/** A row seen as a very large dial: its centre so far below that bearings are places. */
const FAR = 1e6

/** Places along the row that hold ink no mark explains yet, as first models. */
export const overlooked = (raster: Raster, marks: readonly StripMark[], map: PlaneMap, along: Point): StrokeModel[] => {
  const across: Point = [along[1], -along[0]]
  const heights = marks.map((m) => m.middle[0] * across[0] + m.middle[1] * across[1])
  const places = marks.map((m) => m.place)
  const length = medianOrZero(marks.map((m) => m.length))
  const middle = medianOrZero(heights)
  const place = medianOrZero(places)
  const centre: Point = [along[0] * place + across[0] * (middle - FAR), along[1] * place + across[1] * (middle - FAR)]
  const gap = medianOrZero(places.slice(1).map((p, i) => p - (places[i] as number)))
  const right = bearing(centre, [centre[0] + across[0] * FAR + along[0], centre[1] + across[1] * FAR + along[1]])
  const up = bearing(centre, [centre[0] + across[0] * FAR, centre[1] + across[1] * FAR])
  const half = (Math.max(...places) - Math.min(...places)) / 2 + 2 * gap
  const centred = (Math.max(...places) + Math.min(...places)) / 2 - place
  const turn = right > up ? 1 : -1
  const shape = (get: (m: StripMark) => number): number => medianOrZero(marks.map(get))
  return lookAgain({ raster, map }, {
    centre,
    inner: FAR - 0.3 * length,
    outer: FAR + 0.3 * length,
    halfWidthPx: shape((m) => m.fit.model.halfWidth),
    sigmaPx: shape((m) => m.fit.model.sigma),
    amplitude: shape((m) => meanAmplitude(m.fit.model)),
    from: up + (turn * centred - half) / FAR,
    span: (2 * half) / FAR,
  }, marks.map((m) => m.fit.model), { least: 0.45, short: false })
}
