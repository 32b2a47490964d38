import { median } from '#core/numeric/median'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { meanAmplitude } from '#core/detect/stroke/stroke-model'

/** Ink darkens the paper by at least this share, even a hard pencil's in a blurred photo; grain of the picture seldom does (simulated photos). */
const FAINTEST = 0.04
/** Half as dark will do where it is so many times what the paper varies by: a fine pencil in a small quiet photo. */
const ABOVE_GRAIN = 4

/** Marks hardly darker than what they lie on are none: grain or noise was read. Null when they stand. */
export const tooFaint = (marks: readonly { readonly fit: StrokeFit }[]): Unmeasurable | null => {
  const contrast = median(marks.map(({ fit: { model, paper } }) => meanAmplitude(model) / Math.max(10, paper)))
  const aboveGrain = median(marks.map(({ fit: { model, noise } }) => meanAmplitude(model) / Math.max(1, noise)))
  return contrast >= (aboveGrain >= ABOVE_GRAIN ? FAINTEST / 2 : FAINTEST) ? null : unmeasurable(`no pen marks: what looks most like them is only ${(100 * contrast).toFixed(1)} % darker than what it lies on`, 'photo', 'take a sharp photo of the marks in brighter, even light, from as near as shows them all; draw over marks that are too faint')
}
