import { bared } from './ink'

// Pixels round a stroke, column by column of `room` numbers: along, aside, grey.

/** Where a row `dy` from the middle enters the strip |along| ≤ reachT, |aside| ≤ reachS, px from the middle; it leaves it, by symmetry, at −entry(−dy). */
function entry(ux: f64, uy: f64, reachT: f64, reachS: f64, dy: f64): f64 {
  const end = Math.abs(ux) > 1e-6 ? -reachT / Math.abs(ux) - (dy * uy) / ux : -Infinity
  const side = Math.abs(uy) > 1e-6 ? (dy * ux) / uy - reachS / Math.abs(uy) : -Infinity
  return Math.max(end, side)
}

/**
 * The photo's pixels whose centres lie in a strip, grey with the darkening of other strokes added back.
 * @param strip middle x, y, direction x, y, reach along and aside; a ninth number is written: the most that others darkened any pixel
 * @param inks the other strokes
 * @returns how many there are
 */
export function gather(photo: usize, width: i32, height: i32, strip: usize, rowStep: i32, columnStep: i32, inks: usize, count: i32, into: usize, room: i32): i32 {
  const x = load<f64>(strip)
  const y = load<f64>(strip, 8)
  const ux = load<f64>(strip, 16)
  const uy = load<f64>(strip, 24)
  const reachT = load<f64>(strip, 32)
  const reachS = load<f64>(strip, 40)
  const high = Math.abs(uy) * reachT + Math.abs(ux) * reachS
  const bottom = min(height - 1, <i32>Math.floor(y + high))
  const step: usize = 8 * room
  let found = 0
  let shared = 0.0
  for (let row = firstOf(max(0, <i32>Math.ceil(y - high)), rowStep); row <= bottom; row += rowStep) {
    const dy = <f64>row - y
    // Only where the row enters and leaves the strip, so that long slanting strokes cost no more than straight ones.
    const from = max(0, <i32>Math.ceil(entry(ux, uy, reachT, reachS, dy) + x - 1e-9))
    const to = min(width - 1, <i32>Math.floor(-entry(ux, uy, reachT, reachS, -dy) + x + 1e-9))
    for (let column = firstOf(from, columnStep); column <= to && found < room; column += columnStep) {
      const dx = <f64>column - x
      const along = dx * ux + dy * uy
      const aside = dy * ux - dx * uy
      if (Math.abs(along) > reachT || Math.abs(aside) > reachS) continue
      const ink = bared(0, inks, count, <f64>column, <f64>row)
      shared = Math.max(shared, ink)
      const at = into + 8 * found++
      store<f64>(at, along)
      store<f64>(at + step, aside)
      store<f64>(at + 2 * step, <f64>load<u8>(photo + row * width + column) + ink)
    }
  }
  store<f64>(strip, shared, 48)
  return found
}

/** Least multiple of `step` that is no less than `from`. */
function firstOf(from: i32, step: i32): i32 {
  return ((from + step - 1) / step) * step
}

/** Interval of `intervals` even ones over |t| ≤ halfLength; what lies beyond counts to the outermost. */
function intervalOf(t: f64, halfLength: f64, intervals: i32): i32 {
  return max(0, min(intervals - 1, <i32>Math.floor(((t / halfLength + 1) / 2) * <f64>intervals)))
}

/**
 * Sorts pixels by the interval between knots that they lie in, in order within each, so that sums over an interval run through
 * neighbours in memory.
 * @param starts first pixel of each interval, and one beyond the last: written; with as many numbers again to count in
 */
export function sortByInterval(pixels: usize, room: i32, count: i32, halfLength: f64, intervals: i32, starts: usize, sorted: usize): void {
  const step: usize = 8 * room
  const next = starts + 4 * (intervals + 1)
  memory.fill(starts, 0, 4 * (intervals + 1))
  for (let i = 0; i < count; i++) {
    const above = starts + 4 * (intervalOf(load<f64>(pixels + 8 * i), halfLength, intervals) + 1)
    store<i32>(above, load<i32>(above) + 1)
  }
  for (let k = 0; k < intervals; k++) store<i32>(starts + 4 * k, load<i32>(starts + 4 * k) + load<i32>(starts + 4 * k, 4), 4)
  memory.copy(next, starts, 4 * (intervals + 1))
  for (let i = 0; i < count; i++) {
    const from = pixels + 8 * i
    const interval = next + 4 * intervalOf(load<f64>(from), halfLength, intervals)
    const to = load<i32>(interval)
    store<i32>(interval, to + 1)
    const into = sorted + 8 * to
    store<f64>(into, load<f64>(from))
    store<f64>(into + step, load<f64>(from + step))
    store<f64>(into + 2 * step, load<f64>(from + 2 * step))
  }
}
