import { amplitudeOf, asideOf, HALF_LENGTH, HALF_WIDTH, profileAt, SCALE, SIGMA } from './ink'
import { bell } from './tables'

@inline
function add(at: usize, value: f64): void {
  store<f64>(at, load<f64>(at) + value)
}

/**
 * How dark a stroke is in each slice across it: least squares of its profile on a level background.
 * @param pixels along, aside and grey in columns of `room` numbers, gathered over |along| ≤ reachT
 * @param slice length of a slice, px
 * @param into the darkness of each of `slices`, and room for four times as many numbers behind
 */
export function darkness(ink: usize, pixels: usize, room: i32, count: i32, reachT: f64, slice: f64, slices: i32, into: usize): void {
  const step: usize = 8 * room
  const row: usize = 8 * slices
  const halfLength = load<f64>(ink, HALF_LENGTH)
  const halfWidth = load<f64>(ink, HALF_WIDTH)
  const scale = load<f64>(ink, SCALE)
  memory.fill(into, 0, 5 * row)
  for (let i = 0; i < count; i++) {
    const pixel = pixels + 8 * i
    const t = load<f64>(pixel)
    const grey = load<f64>(pixel + 2 * step)
    const tau = Math.max(-1.15, Math.min(1.15, t / halfLength))
    const at = into + 8 * max(0, min(slices - 1, <i32>Math.floor((t + reachT) / slice)))
    const profile = profileAt(load<f64>(pixel + step) - asideOf(ink, tau), halfWidth, scale)
    add(at, 1)
    add(at + row, profile)
    add(at + 2 * row, profile * profile)
    add(at + 3 * row, grey)
    add(at + 4 * row, profile * grey)
  }
  for (let at = into; at < into + row; at += 8) {
    const size = load<f64>(at)
    const p = load<f64>(at + row)
    const spread = load<f64>(at + 2 * row) - (p * p) / Math.max(1, size)
    store<f64>(at, spread > 1e-6 ? ((p * load<f64>(at + 3 * row)) / size - load<f64>(at + 4 * row)) / spread : 0)
  }
}

/** Beyond so many blurs from the edge of the ink there is only paper. */
const BESIDE = 2.2

/**
 * Adds up weight × residual slice by slice, with the weights by which a pixel pulls at the ink, and with the sides on which it is bare paper.
 * @param pixels along, aside, grey and residual in columns of `room` numbers; residuals beyond `cut` count for nothing
 * @param into the ink's sum in each of `slices`, then the paper's, then the sum of each kind of weights squared
 */
export function pulls(ink: usize, pixels: usize, room: i32, count: i32, cut: f64, slices: i32, into: usize): void {
  const step: usize = 8 * room
  const row: usize = 8 * slices
  const halfLength = load<f64>(ink, HALF_LENGTH)
  const halfWidth = load<f64>(ink, HALF_WIDTH)
  const sigma = load<f64>(ink, SIGMA)
  memory.fill(into, 0, 2 * row + 16)
  for (let i = 0; i < count; i++) {
    const pixel = pixels + 8 * i
    const residual = load<f64>(pixel + 3 * step)
    if (Math.abs(residual) >= cut) continue
    const tau = load<f64>(pixel) / halfLength
    const d = load<f64>(pixel + step) - asideOf(ink, tau)
    const slope = (amplitudeOf(ink, tau) * (bell((d + halfWidth) / sigma) - bell((d - halfWidth) / sigma))) / sigma
    const side = Math.abs(d) < halfWidth + BESIDE * sigma ? 0.0 : d > 0 ? 1.0 : -1.0
    const at = into + 8 * max(0, min(slices - 1, <i32>Math.floor(((tau + 1) / 2) * <f64>slices)))
    add(at, slope * residual)
    add(at + row, side * residual)
    add(into + 2 * row, slope * slope)
    add(into + 2 * row + 8, side * side)
  }
}
