import type { Raster } from '#core/detect/raster'
import { type Ellipse, ellipsePoint } from './ellipse.ts'
import { greyAt } from './sample.ts'
import { beadPlaces, beadsTaken, identityOf } from './target-code.ts'
import { targetMm } from './target-shapes.ts'

/** Which target a ring is, and how it is turned (counter-clockwise as seen, rad) in the frame of its ellipse. */
export interface TargetReading {
  readonly identity: number
  readonly turnRad: number
}

const samplesPerPlace = 8
const samples = samplesPerPlace * beadPlaces

/** Mean grey on a circle's piece about an angle (counter-clockwise as seen), over three radii (mm on paper). */
const greyOn = (raster: Raster, ellipse: Ellipse, radiiMm: readonly number[], angle: number): number => {
  const [c, s] = [Math.cos(angle), -Math.sin(angle)]
  const sum = radiiMm.reduce((total, mm) => total + greyAt(raster, ellipsePoint(ellipse, (mm / targetMm.outer) * c, (mm / targetMm.outer) * s)), 0)
  return sum / radiiMm.length
}

const around = (raster: Raster, ellipse: Ellipse, radiiMm: readonly number[], count: number): readonly number[] =>
  Array.from({ length: count }, (_, n) => greyOn(raster, ellipse, radiiMm, (2 * Math.PI * n) / count))

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

const beadRadii = [targetMm.beadCircle - 0.3, targetMm.beadCircle, targetMm.beadCircle + 0.3]

/** Grey of each place when place 0 starts `offset` samples round. */
const placesAt = (ring: readonly number[], offset: number): readonly number[] =>
  Array.from({ length: beadPlaces }, (_, place) =>
    mean([-1, 0, 1].map((k) => ring[(place * samplesPerPlace + offset + k + samples) % samples] as number)),
  )

const variance = (values: readonly number[]): number => mean(values.map((value) => (value - mean(values)) ** 2))

/** Beads are the six darkest places, provided that they stand apart from the rest. */
const beadsIn = (places: readonly number[], contrast: number): readonly boolean[] | null => {
  const sorted = [...places].sort((a, b) => a - b)
  const [beads, bare] = [sorted.slice(0, beadsTaken), sorted.slice(beadsTaken)]
  const [lastBead = 0, firstBare = 0] = [beads.at(-1), bare[0]]
  const apart = mean(bare) - mean(beads)
  if (!(apart > 0.2 * contrast) || !(firstBare - lastBead > 0.4 * apart)) return null
  return places.map((value) => value <= lastBead)
}

/** Reads the beads inside a ring; null when they, the dot or the bare paper between them are not as printed. */
export const readTarget = (raster: Raster, outer: Ellipse): TargetReading | null => {
  const ink = mean(around(raster, outer, [(targetMm.inner + targetMm.outer) / 2], 16))
  const bare = mean(around(raster, outer, [(targetMm.beadCircle + targetMm.beadRadius + targetMm.inner) / 2], 16))
  const between = mean(around(raster, outer, [(targetMm.beadCircle - targetMm.beadRadius + targetMm.dotRadius) / 2], 16))
  const dot = greyOn(raster, outer, [0, 0.3], 0)
  const contrast = bare - ink
  if (!(contrast > 15) || !(bare - dot > 0.25 * contrast) || !(between - dot > 0.2 * contrast)) return null
  const ring = around(raster, outer, beadRadii, samples)
  const offsets = Array.from({ length: samplesPerPlace }, (_, offset) => offset)
  const best = offsets.reduce((a, b) => (variance(placesAt(ring, b)) > variance(placesAt(ring, a)) ? b : a), 0)
  const beads = beadsIn(placesAt(ring, best), contrast)
  const code = beads && identityOf(beads)
  if (!code) return null
  return { identity: code.identity, turnRad: ((2 * Math.PI) / beadPlaces) * (code.turn + best / samplesPerPlace) }
}
