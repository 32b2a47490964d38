import { median } from '#core/numeric/median'
import { greyAt } from '#core/detect/grey-at'
import type { Candidate } from '#core/detect/line/candidate'
import type { Raster } from '#core/detect/raster'
import { besideLineAt, peakDarkness, strokeBetween, type StrokeModel } from './stroke-model.ts'

/** Where there is no ink, the paper beyond its ends differs by less than this share of its darkness against what lies beside it. */
const INK = 0.4

/** Places along the stroke, and along as much of the paper beyond each of its ends, as τ. */
const WITHIN = [-0.7, -0.35, 0, 0.35, 0.7]
const BEYOND = [0.1, 0.2, 0.3, 0.4, 0.5]

/** Blur of a line that was not fitted, px. */
const BLUR = 0.8

const isAsBrightBeyond = (raster: Raster, model: StrokeModel, darkness: number): boolean => {
  const clear = 1 + (2 * model.sigma + 1) / model.halfLength
  const light = (tau: number): number => greyAt(raster, besideLineAt(model, tau, 0))
  const own = median(WITHIN.map(light))
  return ([-1, 1] as const).every((end) => Math.abs(median(BEYOND.map((more) => light(end * (clear + more)))) - own) < INK * darkness)
}

/**
 * Is what looks like a stroke bare paper between the bright rims that a phone's sharpening draws beside strokes? The paper beyond both its ends
 * is then as bright as it; ink that runs on, or runs into other ink, is told by what is dark there.
 */
export const isBareBetween = (raster: Raster, model: StrokeModel): boolean => isAsBrightBeyond(raster, model, peakDarkness(model))

/** The same for a line that was found but not fitted: dark lines that are no more than the gaps between light strokes. */
export const isGap = (raster: Raster, { p0, p1, depth, beside }: Candidate): boolean =>
  isAsBrightBeyond(raster, strokeBetween(p0, p1, { halfWidth: 0, sigma: BLUR, amplitudes: [] }), Math.exp(beside) * (1 - Math.exp(-depth)))
