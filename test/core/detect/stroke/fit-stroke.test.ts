import { modelFrom, refineModels } from '#core/detect/stroke/refine-marks'
import { strokeBetween } from '#core/detect/stroke/stroke-model'
import { erf } from '#core/numeric/error-function'
import { describe, expect, it } from 'vitest'
import { drawRaster, seededRandom } from '../draw-raster.ts'

const BLUR = 1
const WIDTH = 3
const DARK = 100
const LENGTH = 60
const NOISE = 5

/**
 * Cramér–Rao bound on the sideways place of a straight even stroke in white noise of known size: 1/√(L·∫I'(s)² ds/σ²), derived by hand
 * from I(s) = −dark·½[erf((s+h)/√2b) − erf((s−h)/√2b)]; place does not mix with the even parameters, nor with the lean about the middle.
 */
const bound = (noise: number): number => {
  let energy = 0
  const step = 0.01
  const profile = (s: number): number => (DARK / 2) * (erf((s + WIDTH / 2) / (Math.SQRT2 * BLUR)) - erf((s - WIDTH / 2) / (Math.SQRT2 * BLUR)))
  for (let s = -10; s < 10; s += step) energy += ((profile(s + step) - profile(s)) / step) ** 2 * step
  return noise / Math.sqrt(LENGTH * energy)
}

const fitOnce = (seed: number) => {
  const random = seededRandom(seed)
  const angle = Math.PI * random()
  const middle = [60 + random(), 60 + random()] as const
  const along = [Math.cos(angle), Math.sin(angle)] as const
  const end = (side: number) => [middle[0] + (side * LENGTH * along[0]) / 2, middle[1] + (side * LENGTH * along[1]) / 2] as const
  const raster = drawRaster([120, 120], [{ from: end(-1), to: end(1), width: WIDTH, dark: DARK }], { blur: BLUR, noise: NOISE, seed })
  const offset = [1.2 * (random() - 0.5), 1.2 * (random() - 0.5)] as const
  const turn = angle + 0.02 * (random() - 0.5)
  const start = [middle[0] + offset[0], middle[1] + offset[1]] as const
  const candidate = { p0: start, p1: start, middle: start, along: [Math.cos(turn), Math.sin(turn)] as const, lengthPx: 0.9 * LENGTH, widthPx: 4, depth: 0.6, beside: 5, step: 0, share: 1 }
  const [fit] = refineModels(raster, [modelFrom(candidate, raster)])
  if (fit === undefined || fit === null) throw new Error('no fit')
  // Mean sideways place of the fitted ink, taken along its lean to the true stroke's middle.
  const { model } = fit
  const dx = middle[0] - model.middle[0]
  const dy = middle[1] - model.middle[1]
  const t = dx * model.along[0] + dy * model.along[1]
  const s = dy * model.along[0] - dx * model.along[1]
  return { error: s - model.bow[0] - (model.bow[1] * t) / model.halfLength, u: fit.uOffset }
}

const fits = Array.from({ length: 150 }, (_, i) => fitOnce(1000 + i))
const rms = (values: readonly number[]): number => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length)

describe('stroke fit under white noise (simulated)', () => {
  // 150 fits: the rms itself is known to 6 %.
  it('places a straight stroke within 1.3 times the Cramér–Rao bound', () => {
    expect(rms(fits.map((f) => f.error))).toBeLessThan(1.3 * bound(NOISE))
  })

  it('states its standard uncertainty honestly: normalised errors spread by 1 ± 0.2', () => {
    const spread = rms(fits.map((f) => f.error / f.u))
    expect(spread).toBeGreaterThan(0.8)
    expect(spread).toBeLessThan(1.2)
  })

  it('has no bias beyond its noise', () => {
    const mean = fits.reduce((sum, f) => sum + f.error, 0) / fits.length
    expect(Math.abs(mean)).toBeLessThan((3 * rms(fits.map((f) => f.error))) / Math.sqrt(fits.length))
  })
})

describe('stroke fit from starts that are wrong in width, blur and darkness (simulated)', () => {
  const [from, to] = [[30, 42], [88, 77]] as const
  const raster = drawRaster([120, 120], [{ from, to, width: 2.2, dark: 150 }], { blur: 0.9, noise: 3, seed: 5 })
  const shares = [0.4, 0.7, 1, 1.5, 2.2]
  const starts = shares.flatMap((w) => [0.65, 1, 1.5].flatMap((b) => shares.map((a) => strokeBetween(from, to, { halfWidth: 1.1 * w, sigma: 0.9 * b, amplitudes: new Array<number>(5).fill(150 * a) }))))
  const models = starts.map((start) => refineModels(raster, [start])[0]?.model)

  // Twenty times the Cramér–Rao bound of such a stroke (0.007 px): no start may end in another minimum.
  it('comes home to the stroke, and to ink that darkens', () => {
    const off = models.map((m) => (m === undefined ? Number.NaN : Math.abs(m.bow[0] + (59.5 - m.middle[1]) * -m.along[0] - (59 - m.middle[0]) * -m.along[1])))
    expect(Math.max(...off)).toBeLessThan(0.15)
    expect(Math.min(...models.map((m) => Math.min(...(m?.amplitudes ?? [-1]))))).toBeGreaterThan(0)
  })
})
