import { asideOf, inkOf } from './stroke-ink.ts'
import { bowAt, profileAt, type StrokeModel } from './stroke-model.ts'
import type { StrokePixels } from './stroke-pixels.ts'

/** Share of its usual darkness below which a stroke has ended. */
const ENDS_AT = 0.42
/** A gap of this many half widths and 4 px, as where another line crosses at a slant, does not end a stroke. */
const BRIDGED = 4
/** Nor does a skip of the pen, with so many times as much ink after it on the line that was found. */
const RESUMED = 2

/** How dark the stroke is in each slice across it: least squares of the profile on a level background, slice by slice. */
const darknessBySlice = (pixels: StrokePixels, model: StrokeModel, reachT: number, slice: number): Float64Array => {
  const count = Math.max(1, Math.ceil((2 * reachT) / slice))
  const sums = Array.from({ length: 5 }, () => new Float64Array(count))
  const [n, p, pp, g, pg] = sums as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array]
  const { halfLength, halfWidth, scale, shape } = inkOf(model)
  for (let i = 0; i < pixels.count; i++) {
    const t = pixels.t[i] as number
    const tau = Math.max(-1.15, Math.min(1.15, t / halfLength))
    const j = Math.min(count - 1, Math.max(0, Math.floor((t + reachT) / slice)))
    const profile = profileAt((pixels.s[i] as number) - asideOf(shape, tau), halfWidth, scale)
    n[j] = (n[j] as number) + 1
    p[j] = (p[j] as number) + profile
    pp[j] = (pp[j] as number) + profile * profile
    g[j] = (g[j] as number) + (pixels.grey[i] as number)
    pg[j] = (pg[j] as number) + profile * (pixels.grey[i] as number)
  }
  return n.map((size, j) => {
    const spread = (pp[j] as number) - ((p[j] as number) * (p[j] as number)) / Math.max(1, size)
    return spread > 1e-6 ? (((p[j] as number) * (g[j] as number)) / size - (pg[j] as number)) / spread : 0
  })
}

/**
 * Cuts or lengthens a stroke to where its ink begins and ends.
 * @param pixels gathered over |t| ≤ reachT
 * @returns the model with new middle, length and bow; the same when the ends cannot be told
 */
export const scanEnds = (pixels: StrokePixels, model: StrokeModel, reachT: number): StrokeModel => {
  const slice = Math.max(1.5, model.sigma)
  const raw = darknessBySlice(pixels, model, reachT, slice)
  const dark = raw.map((v, j) => (v + (raw[j - 1] ?? v) + (raw[j + 1] ?? v)) / 3)
  const place = (t: number): number => Math.max(0, Math.min(dark.length - 1, Math.floor((t + reachT) / slice)))
  const inside = [...dark.slice(place(-0.6 * model.halfLength), place(0.6 * model.halfLength) + 1)].sort((a, b) => a - b)
  const limit = ENDS_AT * (inside[Math.floor(0.6 * inside.length)] ?? 0)
  if (!(limit > 0)) return model
  const bridge = Math.ceil((BRIDGED * model.halfWidth + 4) / slice)
  /** Is there ink enough from here to the end of the line that was found? */
  const resumes = (from: number, sign: 1 | -1, gap: number): boolean => {
    let inked = 0
    for (let j = from; sign * (place(sign * model.halfLength) - j) >= 0; j += sign) if ((dark[j] as number) > limit) inked++
    return inked >= RESUMED * gap
  }
  const walk = (sign: 1 | -1): number => {
    let last = place(0)
    for (let j = last; j >= 0 && j < dark.length && (Math.abs(j - last) <= bridge || resumes(j, sign, Math.abs(j - last))); j += sign) if ((dark[j] as number) > limit) last = j
    return last
  }
  /** Where the darkness crosses the limit between the last slice that has ink and the next, px. */
  const edge = (sign: 1 | -1): number => {
    const last = walk(sign)
    const [here, next] = [dark[last] as number, Math.min(limit, dark[last + sign] ?? limit)]
    const beyond = here > next ? (here - limit) / (here - next) : 0.5
    return (last + 0.5 + sign * beyond) * slice - reachT
  }
  const from = edge(-1)
  const to = edge(1)
  const halfLength = (to - from) / 2
  if (halfLength < 0.35 * model.halfLength) return model
  const shift = (from + to) / 2
  const aside = bowAt(model, Math.max(-1, Math.min(1, shift / model.halfLength)))
  const [ux, uy] = model.along
  const middle = [model.middle[0] + shift * ux - aside * uy, model.middle[1] + shift * uy + aside * ux] as const
  const ratio = halfLength / model.halfLength
  return { ...model, middle, halfLength, bow: [0, model.bow[1] * ratio, model.bow[2] * ratio * ratio] }
}
