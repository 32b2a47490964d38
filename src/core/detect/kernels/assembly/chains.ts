/** Largest turn from one point to the next, rad. */
const MOST_TURN = 0.6

/**
 * Joins points into lines, each once.
 * @param order points to start from, the best first
 * @param at for each pixel the point in it or −1; −1 also two pixels beyond the border on every side
 * @param chains points of line after line
 * @param ends where in `chains` each line ends
 * @returns how many lines there are
 */
export function link(order: usize, starts: i32, points: usize, room: i32, at: usize, width: i32, used: usize, least: i32, chains: usize, ends: usize): i32 {
  let count = 0
  let end = 0
  for (let n = 0; n < starts; n++) {
    const start = load<i32>(order + 4 * n)
    if (load<u8>(used + start)) continue
    store<u8>(used + start, 1)
    const first = end
    end = walk(start, -1, points, room, at, width, used, chains, end)
    reverse(chains, first, end)
    store<i32>(chains + 4 * end++, start)
    end = walk(start, 1, points, room, at, width, used, chains, end)
    if (end - first < least) end = first
    else store<i32>(ends + 4 * count++, end)
  }
  return count
}

function reverse(chains: usize, first: i32, end: i32): void {
  for (let i = first, j = end - 1; i < j; i++, j--) {
    const one = load<i32>(chains + 4 * i)
    store<i32>(chains + 4 * i, load<i32>(chains + 4 * j))
    store<i32>(chains + 4 * j, one)
  }
}

function walk(start: i32, sign: f64, points: usize, room: i32, at: usize, width: i32, used: usize, chains: usize, end: i32): i32 {
  const alongs = points + 12 * room
  let hx = sign * <f64>load<f32>(alongs + 4 * start)
  let hy = sign * <f64>load<f32>(alongs + 4 * start + 4 * room)
  for (let from = next(start, hx, hy, points, room, at, width, used); from >= 0; from = next(from, hx, hy, points, room, at, width, used)) {
    store<u8>(used + from, 1)
    store<i32>(chains + 4 * end++, from)
    const ax = <f64>load<f32>(alongs + 4 * from)
    const ay = <f64>load<f32>(alongs + 4 * from + 4 * room)
    const side = ax * hx + ay * hy >= 0 ? 1.0 : -1.0
    hx = side * ax
    hy = side * ay
  }
  return end
}

/** The unused point best placed to go on from `from` in the heading (hx, hy), up to two pixels away; −1 for none. */
function next(from: i32, hx: f64, hy: f64, points: usize, room: i32, at: usize, width: i32, used: usize): i32 {
  const p = points + 4 * from
  const x = <f64>load<f32>(p)
  const y = <f64>load<f32>(p + 4 * room)
  const ax = <f64>load<f32>(p + 12 * room)
  const ay = <f64>load<f32>(p + 16 * room)
  const middle = at + 4 * (<i32>Math.floor(y + 0.5) * width + <i32>Math.floor(x + 0.5))
  let best = -1
  let lowest = 2.4
  for (let dy = -2; dy <= 2; dy++) {
    for (let dx = -2; dx <= 2; dx++) {
      const candidate = load<i32>(middle + 4 * (dy * width + dx))
      if (candidate < 0 || candidate == from || load<u8>(used + candidate)) continue
      const q = points + 4 * candidate
      const ex = <f64>load<f32>(q) - x
      const ey = <f64>load<f32>(q + 4 * room) - y
      const along = ex * hx + ey * hy
      if (along < 0.3) continue
      const aside = Math.abs(ey * hx - ex * hy)
      if (aside > 0.8 * along) continue
      const cosine = Math.abs(ax * <f64>load<f32>(q + 12 * room) + ay * <f64>load<f32>(q + 16 * room))
      const turn = Math.acos(Math.min(1, cosine))
      const cost = along + 1.5 * aside + turn
      if (turn <= MOST_TURN && cost < lowest) {
        lowest = cost
        best = candidate
      }
    }
  }
  return best
}
