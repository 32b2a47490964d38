import type { StrokeModel } from './stroke-model.ts'

/** Numbers to a stroke in the compiled loops' memory (kernels/assembly/ink.ts), and those before its amplitudes. */
const INK = 32
const BEFORE = 14
/** Bytes to a stroke. */
export const INK_BYTES = 8 * INK

/**
 * Strokes laid out for the compiled loops: middle, direction, half length and width, blur, what is worked out from these, bow, amplitudes.
 * @param at the first one's place, bytes
 * @throws RangeError for a stroke of more than 18 knots
 */
export const writeInks = (f64: Float64Array, at: number, models: readonly StrokeModel[]): void => {
  for (let k = 0; k < models.length; k++) {
    const { middle, along, halfLength, halfWidth, sigma, bow, amplitudes } = models[k] as StrokeModel
    if (amplitudes.length > INK - BEFORE) throw new RangeError(`expected at most ${INK - BEFORE} knots, got ${amplitudes.length}`)
    const own = at / 8 + k * INK
    f64.set(middle, own)
    f64.set(along, own + 2)
    f64[own + 4] = halfLength
    f64[own + 5] = halfWidth
    f64[own + 6] = sigma
    f64[own + 7] = Math.SQRT1_2 / sigma
    // Beyond these its darkening is nothing.
    f64[own + 8] = halfLength + 3 * sigma
    f64[own + 9] = halfWidth + 4 * sigma
    f64[own + 10] = amplitudes.length
    f64.set(bow, own + 11)
    f64.set(amplitudes, own + BEFORE)
  }
}

/** The stroke with the shape that a fit wrote over its numbers. */
export const readInk = (f64: Float64Array, at: number, model: StrokeModel): StrokeModel => {
  const own = at / 8
  const [halfWidth, sigma] = [f64[own + 5] as number, f64[own + 6] as number]
  const bow = [f64[own + 11] as number, f64[own + 12] as number, f64[own + 13] as number] as const
  return { ...model, bow, halfWidth, sigma, amplitudes: [...f64.subarray(own + BEFORE, own + BEFORE + model.amplitudes.length)] }
}
