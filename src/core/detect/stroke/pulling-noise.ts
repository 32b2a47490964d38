import { longRunSum } from '#core/numeric/long-run-sum'
import { LEAST_SLICE, type StrokePixels } from './stroke-pixels.ts'

/** Residuals this far apart along the stroke, px, may still have a cause in common: JPEG blocks, paper fibre, grain of the ink. */
const REACH_PX = 9
/** And so may those within this share of its length: the hand's wobble, which a bow does not follow. */
const REACH_SHARE = 0.16
/**
 * Grain and wobble of the ink are where the ink is, no errors in saying so; but the fit weighs them by contrast and not by ink, and so
 * misses the middle of the ink by about this share of them (seen on rendered pens, scripts/bench/detect.ts; no source).
 */
const INK_SHARE = 0.25

/** Sums along the stroke, one per slice, and what their variance would be for white noise of one grey level. */
interface Slices {
  readonly sums: Float64Array
  readonly white: number
}

/** Weight × residual slice by slice, with the weights by which a pixel pulls at the ink, and with the sides on which it is bare paper. */
const slicesOf = ({ program, f64, own, sorted, room, count, slices: into }: StrokePixels, halfLength: number, cut: number): { readonly ofInk: Slices; readonly ofPaper: Slices } => {
  const slices = Math.max(3, Math.ceil((2 * halfLength) / LEAST_SLICE))
  program.pulls(own, sorted, room, count, cut, slices, into)
  const [first, second, end] = [into / 8, into / 8 + slices, into / 8 + 2 * slices]
  return { ofInk: { sums: f64.slice(first, second), white: f64[end] as number }, ofPaper: { sums: f64.slice(second, end), white: f64[end + 1] as number } }
}

/** What a fit takes up of the sums: place, lean and bow, or the paper's level, slope and bend. */
const TAKEN_UP = 3

/** Takes the slowest cosines out of a row of values, in place. */
const withoutSlow = (values: Float64Array): void => {
  const count = values.length
  const wave = new Float64Array(count)
  for (let k = 0; k < TAKEN_UP; k++) {
    let sum = 0
    for (let j = 0; j < count; j++) {
      const here = Math.cos((Math.PI * k * (j + 0.5)) / count)
      wave[j] = here
      sum += (values[j] as number) * here
    }
    const amplitude = ((k === 0 ? 1 : 2) * sum) / count
    for (let j = 0; j < count; j++) values[j] = (values[j] as number) - amplitude * (wave[j] as number)
  }
}

/** So much of the scatter is left at least where the lag window is wide beside the stroke; in fewer slices than these the third power of their number (rendered short strokes). */
const LEAST_FREEDOM = 0.3
const ENOUGH_SLICES = 14

/** Variance of white noise, grey levels squared, that would make the sums scatter as they do; null when no pixel counted. */
const asWhite = ({ sums, white }: Slices, reachPx: number): number | null => {
  const lags = Math.min(Math.floor(reachPx / LEAST_SLICE), Math.floor(sums.length / 3))
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
 * @param around a stroke's pixels after a fit
 * @param cut larger residuals are something else, grey levels
 */
export const pullingNoise = (around: StrokePixels, halfLength: number, cut: number): number => {
  const slices = slicesOf(around, halfLength, cut)
  const ofInk = asWhite(slices.ofInk, Math.max(REACH_PX, REACH_SHARE * 2 * halfLength)) ?? 0
  const ofPaper = asWhite(slices.ofPaper, REACH_PX) ?? ofInk
  return ofPaper + INK_SHARE ** 2 * Math.max(0, ofInk - ofPaper)
}
