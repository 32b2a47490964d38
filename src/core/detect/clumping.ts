import { quickBell } from '#core/numeric/error-function'
import { amplitudeAt, bowAt, type StrokeModel } from './stroke-model.ts'
import type { StrokePixels } from './stroke-pixels.ts'

/** Residuals this far apart along the stroke, px, may still have a cause in common: JPEG blocks, paper fibre, grain of the ink. */
const REACH_PX = 9
/** And so may those within this share of its length: the hand's wobble, which a bow does not follow. */
const REACH_SHARE = 0.16
const SLICE_PX = 1.5

/**
 * How much more the stroke's sideways pull scatters than white noise of the same size would make it: the variance of the
 * summed pulls of the residuals with Bartlett's lag window (Newey & West 1987), over the variance that white noise of the
 * fit's own size would give them. Grain inside the ink, which does not pull aside, so counts for little.
 * 1 for white noise; scatters by itself by some 30 % per stroke, so average it over many.
 * @param residuals one per pixel, grey levels; those beyond `cut` count for nothing
 * @param noise the fit's, grey levels
 */
export const clumping = (pixels: StrokePixels, residuals: Float64Array, model: StrokeModel, { cut, noise }: { readonly cut: number; readonly noise: number }): number => {
  const { halfLength, halfWidth, sigma, amplitudes } = model
  const count = Math.max(3, Math.ceil((2 * halfLength) / SLICE_PX))
  const pull = new Float64Array(count)
  let white = 0
  for (let i = 0; i < pixels.count; i++) {
    const residual = residuals[i] as number
    if (Math.abs(residual) >= cut) continue
    const tau = (pixels.t[i] as number) / halfLength
    const d = (pixels.s[i] as number) - bowAt(model, tau)
    const slope = (amplitudeAt(amplitudes, tau) * (quickBell((d + halfWidth) / sigma) - quickBell((d - halfWidth) / sigma))) / sigma
    const j = Math.max(0, Math.min(count - 1, Math.floor(((tau + 1) / 2) * count)))
    pull[j] = (pull[j] as number) + slope * residual
    white += slope * slope * noise * noise
  }
  const lags = Math.min(Math.floor(Math.max(REACH_PX, REACH_SHARE * 2 * halfLength) / SLICE_PX), Math.floor(count / 3))
  let total = 0
  for (let lag = 0; lag <= lags; lag++) {
    let sum = 0
    for (let j = lag; j < count; j++) sum += (pull[j] as number) * (pull[j - lag] as number)
    total += (lag === 0 ? 1 : 2 * (1 - lag / (lags + 1))) * sum
  }
  // The fit has used up three of the pulls' degrees of freedom, each as wide as the lag window.
  const freedom = Math.max(0.3, 1 - (3 * (lags + 1)) / count)
  return white > 0 ? Math.max(0.05, total / white / freedom) : 1
}
