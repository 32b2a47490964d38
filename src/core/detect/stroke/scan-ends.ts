import { bowAt, type StrokeModel } from './stroke-model.ts'
import { LEAST_SLICE, type StrokePixels } from './stroke-pixels.ts'

/** Share of its usual darkness below which a stroke has ended. */
const ENDS_AT = 0.42
/** A gap of this many half widths and 4 px, as where another line crosses at a slant, does not end a stroke. */
const BRIDGED = 4
/** Nor does a skip of the pen, with so many times as much ink after it on the line that was found. */
const RESUMED = 2

/** How dark the stroke is in each slice across it. */
const darknessBySlice = ({ program, f64, own, pixels, room, count, slices: into }: StrokePixels, reachT: number, slice: number): Float64Array => {
  const slices = Math.max(1, Math.ceil((2 * reachT) / slice))
  program.darkness(own, pixels, room, count, reachT, slice, slices, into)
  return f64.slice(into / 8, into / 8 + slices)
}

/**
 * Cuts or lengthens a stroke to where its ink begins and ends.
 * @param pixels gathered over |t| ≤ reachT
 * @returns the model with new middle, length and bow; the same when the ends cannot be told
 */
export const scanEnds = (pixels: StrokePixels, model: StrokeModel, reachT: number): StrokeModel => {
  const slice = Math.max(LEAST_SLICE, model.sigma)
  const raw = darknessBySlice(pixels, reachT, slice)
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
