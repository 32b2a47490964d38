import { median } from '#core/numeric/median'
import { greyAt } from '#core/detect/grey-at'
import type { Raster } from '#core/detect/raster'
import { bowAt, inkProfile, meanAmplitude, type StrokeModel } from './stroke-model.ts'

/** Less than this share of a stroke's darkness against what lies beside it is left against the paper beyond its ends where there is no ink. */
const INK = 0.4

/** Places along the stroke, and along as much of the paper beyond each of its ends, as τ. */
const WITHIN = [-0.7, -0.35, 0, 0.35, 0.7]
const BEYOND = [0.1, 0.2, 0.3, 0.4, 0.5]

/**
 * Is what looks like a stroke bare paper between the bright rims that a phone's sharpening draws beside strokes? The paper beyond its ends is
 * then hardly brighter than it, and at one of them alike.
 */
export const isBareBetween = (raster: Raster, model: StrokeModel): boolean => {
  const [ux, uy] = model.along
  const clear = 1 + (2 * model.sigma + 1) / model.halfLength
  const light = (tau: number): number => {
    const [t, s] = [tau * model.halfLength, bowAt(model, Math.max(-1, Math.min(1, tau)))]
    return greyAt(raster, [model.middle[0] + t * ux - s * uy, model.middle[1] + t * uy + s * ux])
  }
  const own = median(WITHIN.map(light))
  const darkness = meanAmplitude(model) * inkProfile(0, model.halfWidth, model.sigma)
  const brighter = ([-1, 1] as const).map((end) => (median(BEYOND.map((more) => light(end * (clear + more)))) - own) / darkness)
  return brighter.some((b) => Math.abs(b) < INK) && !brighter.some((b) => b >= INK)
}
