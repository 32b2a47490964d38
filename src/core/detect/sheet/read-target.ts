import type { Raster } from '#core/detect/raster'
import { type Ellipse, ellipsePoint } from './ellipse.ts'
import { greyAt } from '#core/detect/grey-at'
import { mean } from '#core/numeric/moments'
import { tickPlaces, ticksTaken, identityOf } from './target-code.ts'
import { targetMm } from './target-places.ts'

/** Which target a ring is, and how it is turned (counter-clockwise as seen, rad) in the frame of its ellipse. */
export interface TargetReading {
  readonly identity: number
  readonly turnRad: number
}

const samplesPerPlace = 8
const samples = samplesPerPlace * tickPlaces

/** Mean grey on a circle's piece about an angle (counter-clockwise as seen), over three radii (mm on paper). */
const greyOn = (raster: Raster, ellipse: Ellipse, radiiMm: readonly number[], angle: number): number => {
  const [c, s] = [Math.cos(angle), -Math.sin(angle)]
  const sum = radiiMm.reduce((total, mm) => total + greyAt(raster, ellipsePoint(ellipse, (mm / targetMm.outer) * c, (mm / targetMm.outer) * s)), 0)
  return sum / radiiMm.length
}

const around = (raster: Raster, ellipse: Ellipse, radiiMm: readonly number[], count: number): readonly number[] =>
  Array.from({ length: count }, (_, n) => greyOn(raster, ellipse, radiiMm, (2 * Math.PI * n) / count))

const tickRadii = [0.2, 0.5, 0.8].map((part) => targetMm.tickFrom + part * (targetMm.tickTo - targetMm.tickFrom))

/** Grey of each place when place 0 starts `offset` samples round. */
const placesAt = (ring: readonly number[], offset: number): readonly number[] =>
  Array.from({ length: tickPlaces }, (_, place) =>
    mean([-1, 0, 1].map((k) => ring[(place * samplesPerPlace + offset + k + samples) % samples] as number)),
  )

const variance = (values: readonly number[]): number => mean(values.map((value) => (value - mean(values)) ** 2))

/** Undoes blur along the dial: each place less a share of its two neighbours. */
const sharpened = (places: readonly number[], share: number): readonly number[] =>
  places.map((value, n) => {
    const beside = (places[(n + 1) % tickPlaces] as number) + (places[(n + tickPlaces - 1) % tickPlaces] as number)
    return (value - share * beside) / (1 - 2 * share)
  })

/** The six darkest places, and how far they stand apart from the rest, as a part of the mean difference. */
interface Split {
  readonly ticks: readonly boolean[]
  readonly apart: number
  readonly clear: number
}

const splitOf = (places: readonly number[]): Split => {
  const sorted = [...places].sort((a, b) => a - b)
  const [dark, bare] = [sorted.slice(0, ticksTaken), sorted.slice(ticksTaken)]
  const [lastDark = 0, firstBare = 0] = [dark.at(-1), bare[0]]
  const apart = mean(bare) - mean(dark)
  return { ticks: places.map((value) => value <= lastDark), apart, clear: (firstBare - lastDark) / apart }
}

/** How much of a neighbour's grey blur may bring along; what to try, least first. */
const blurShares = [0, 0.1, 0.18, 0.25, 0.3]

/** Which places hold ticks, provided that they stand apart from the rest once blur is undone. */
const ticksIn = (places: readonly number[], contrast: number): readonly boolean[] | null => {
  const splits = blurShares.map((share) => splitOf(sharpened(places, share)))
  const best = splits.reduce((a, b) => (b.clear > a.clear ? b : a))
  return best.apart > 0.2 * contrast && best.clear > 0.3 ? best.ticks : null
}

/** Reads the ticks inside a ring; null when they or the dot are not as printed. */
export const readTarget = (raster: Raster, outer: Ellipse): TargetReading | null => {
  const ink = mean(around(raster, outer, [(targetMm.inner + targetMm.outer) / 2], 16))
  const paper = mean(around(raster, outer, [targetMm.outer + targetMm.quiet - 0.4], 16))
  const between = mean(around(raster, outer, [(targetMm.tickFrom + targetMm.dotRadius) / 2], 16))
  const dot = greyOn(raster, outer, [0, 0.3], 0)
  const contrast = paper - ink
  if (!(contrast > 15) || !(between - dot > 0.1 * contrast)) return null
  const ring = around(raster, outer, tickRadii, samples)
  const offsets = Array.from({ length: samplesPerPlace }, (_, offset) => offset)
  const best = offsets.reduce((a, b) => (variance(placesAt(ring, b)) > variance(placesAt(ring, a)) ? b : a), 0)
  const ticks = ticksIn(placesAt(ring, best), contrast)
  const code = ticks && identityOf(ticks)
  if (!code) return null
  return { identity: code.identity, turnRad: ((2 * Math.PI) / tickPlaces) * (code.turn + best / samplesPerPlace) }
}
