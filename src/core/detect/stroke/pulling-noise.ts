import { quickBell } from '#core/numeric/error-function'
import { longRunSum } from '#core/numeric/long-run-sum'
import { amplitudeOf, asideOf, inkOf } from './stroke-ink.ts'
import type { StrokeModel } from './stroke-model.ts'
import type { StrokePixels } from './stroke-pixels.ts'

/** Residuals this far apart along the stroke, px, may still have a cause in common: JPEG blocks, paper fibre, grain of the ink. */
const REACH_PX = 9
/** And so may those within this share of its length: the hand's wobble, which a bow does not follow. */
const REACH_SHARE = 0.16
const SLICE_PX = 1.5
/** Beyond so many blurs from the edge of the ink there is only paper. */
const BESIDE = 2.2
/**
 * Grain and wobble of the ink are where the ink is, no errors in saying so; but the fit weighs them by contrast and not by ink, and so
 * misses the middle of the ink by about this share of them (seen on rendered pens, scripts/bench/detect.ts; no source).
 */
const INK_SHARE = 0.25

/** Residuals of a fit, one per pixel, grey levels; those beyond `cut` count for nothing. */
interface Left {
  readonly pixels: StrokePixels
  readonly residuals: Float64Array
  readonly model: StrokeModel
  readonly cut: number
}

/** Sums along the stroke, one per slice, and what their variance would be for white noise of one grey level. */
interface Slices {
  readonly sums: Float64Array
  white: number
}

/** Adds up weight × residual slice by slice, with the weights by which a pixel pulls at the ink, and with the sides on which it is bare paper. */
const slicesOf = ({ pixels, residuals, model, cut }: Left): { readonly ofInk: Slices; readonly ofPaper: Slices } => {
  const { halfLength, halfWidth, shape } = inkOf(model)
  const { sigma } = model
  const count = Math.max(3, Math.ceil((2 * halfLength) / SLICE_PX))
  const ofInk: Slices = { sums: new Float64Array(count), white: 0 }
  const ofPaper: Slices = { sums: new Float64Array(count), white: 0 }
  for (let i = 0; i < pixels.count; i++) {
    const residual = residuals[i] as number
    if (Math.abs(residual) >= cut) continue
    const tau = (pixels.t[i] as number) / halfLength
    const d = (pixels.s[i] as number) - asideOf(shape, tau)
    const slope = (amplitudeOf(shape, tau) * (quickBell((d + halfWidth) / sigma) - quickBell((d - halfWidth) / sigma))) / sigma
    const side = Math.abs(d) < halfWidth + BESIDE * sigma ? 0 : Math.sign(d)
    const j = Math.max(0, Math.min(count - 1, Math.floor(((tau + 1) / 2) * count)))
    ofInk.sums[j] = (ofInk.sums[j] as number) + slope * residual
    ofInk.white += slope * slope
    ofPaper.sums[j] = (ofPaper.sums[j] as number) + side * residual
    ofPaper.white += side * side
  }
  return { ofInk, ofPaper }
}

/** What a fit takes up of the sums: place, lean and bow, or the paper's level, slope and bend. */
const TAKEN_UP = 3

/** Takes the slowest cosines out of a row of values, in place. */
const withoutSlow = (values: Float64Array): void => {
  const count = values.length
  for (let k = 0; k < TAKEN_UP; k++) {
    const wave = values.map((_, j) => Math.cos((Math.PI * k * (j + 0.5)) / count))
    const amplitude = ((k === 0 ? 1 : 2) * values.reduce((sum, v, j) => sum + v * (wave[j] as number), 0)) / count
    for (let j = 0; j < count; j++) values[j] = (values[j] as number) - amplitude * (wave[j] as number)
  }
}

/** So much of the scatter is left at least where the lag window is wide beside the stroke; in fewer slices than these the third power of their number (rendered short strokes). */
const LEAST_FREEDOM = 0.3
const ENOUGH_SLICES = 14

/** Variance of white noise, grey levels squared, that would make the sums scatter as they do; null when no pixel counted. */
const asWhite = ({ sums, white }: Slices, reachPx: number): number | null => {
  const lags = Math.min(Math.floor(reachPx / SLICE_PX), Math.floor(sums.length / 3))
  withoutSlow(sums)
  // Each degree of freedom taken out is as wide as the lag window.
  const least = LEAST_FREEDOM * Math.min(1, sums.length / ENOUGH_SLICES) ** 3
  const freedom = Math.max(least, 1 - (TAKEN_UP * (lags + 1)) / sums.length)
  return white > 0 ? Math.max(0, longRunSum(sums, lags)) / white / freedom : null
}

/**
 * What counts against the stroke's sideways place, as the variance of white noise (grey levels squared): the noise of the paper beside
 * the stroke, and a share of what pulls at the ink itself, both at the scale of the whole stroke.
 * Scatters by itself by some 30 % per stroke, so average it over many.
 */
export const pullingNoise = (left: Left): number => {
  const slices = slicesOf(left)
  const ofInk = asWhite(slices.ofInk, Math.max(REACH_PX, REACH_SHARE * 2 * left.model.halfLength)) ?? 0
  const ofPaper = asWhite(slices.ofPaper, REACH_PX) ?? ofInk
  return ofPaper + INK_SHARE ** 2 * Math.max(0, ofInk - ofPaper)
}
