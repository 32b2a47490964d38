import { bell, erf } from './tables'

/** Parameters that every pixel touches, before the two amplitudes of its interval between knots. */
const FIXED = 8
const TOUCHED = FIXED + 2
/** Place of the paper's level among them, whose derivative is the root of the weight itself. */
const LEVEL = 5
/** Beyond this many blurs from an end the ink is whole. */
const END_REACH = 3.0

/** Share of the ink left at `t` by the blur of the ends. */
function leftByEnds(t: f64, halfLength: f64, sigma: f64): f64 {
  const inside = halfLength - Math.abs(t)
  return inside > END_REACH * sigma ? 1.0 : 0.5 * (1 + erf((inside * Math.SQRT1_2) / sigma))
}

/**
 * Fills residuals and columns with one interval's pixels.
 * @param pixels four columns of `room` numbers: along, aside, grey, and the residuals that are written
 * @param state bow ×3, half width, sigma, ground ×3, half length, half width that was looked at, greatest residual that counts, amplitudes
 * @param columns derivatives by each parameter touched, and last the residuals, all times the root of the weight; `room` numbers each
 * @returns how many of the pixels count
 */
function fillColumns(pixels: usize, room: i32, from: i32, to: i32, interval: i32, intervals: i32, state: usize, columns: usize): i32 {
  const step: usize = 8 * room
  const b0 = load<f64>(state)
  const b1 = load<f64>(state, 8)
  const b2 = load<f64>(state, 16)
  const halfWidth = load<f64>(state, 24)
  const sigma = load<f64>(state, 32)
  const g0 = load<f64>(state, 40)
  const g1 = load<f64>(state, 48)
  const g2 = load<f64>(state, 56)
  const halfLength = load<f64>(state, 64)
  const reachS = load<f64>(state, 72)
  const cut = load<f64>(state, 80)
  const near = load<f64>(state + 8 * interval, 88)
  const rise = load<f64>(state + 8 * interval, 96) - near
  const scale = 1 / sigma
  let n = 0
  let into = columns
  for (let i = from; i < to; i++) {
    const pixel = pixels + 8 * i
    const t = load<f64>(pixel)
    const s = load<f64>(pixel + step)
    const tau = t / halfLength
    const ends = leftByEnds(t, halfLength, sigma)
    const side = s / reachS
    const curve = 1.5 * tau * tau - 0.5
    const d = s - b0 - b1 * tau - b2 * curve
    const f = Math.max(0, Math.min(1, ((tau + 1) / 2) * <f64>intervals - <f64>interval))
    const a = (near + f * rise) * ends
    const up = (d + halfWidth) * scale
    const down = (d - halfWidth) * scale
    const p = 0.5 * (erf(up * Math.SQRT1_2) - erf(down * Math.SQRT1_2))
    const residual = load<f64>(pixel + 2 * step) - g0 - g1 * side - g2 * tau + a * p
    store<f64>(pixel + 3 * step, residual)
    const z = residual / cut
    const root = 1 - z * z
    if (root <= 0) continue
    const plus = bell(up)
    const minus = bell(down)
    const shift = root * a * scale
    const slope = shift * (plus - minus)
    store<f64>(into, slope)
    store<f64>(into + step, slope * tau)
    store<f64>(into + 2 * step, slope * curve)
    store<f64>(into + 3 * step, -shift * (plus + minus))
    store<f64>(into + 4 * step, shift * (up * plus - down * minus))
    store<f64>(into + 5 * step, root)
    store<f64>(into + 6 * step, root * side)
    store<f64>(into + 7 * step, root * tau)
    store<f64>(into + 8 * step, -root * p * ends * (1 - f))
    store<f64>(into + 9 * step, -root * p * ends * f)
    store<f64>(into + 10 * step, root * residual)
    into += 8
    n++
  }
  // The sums take two at a time.
  for (let k = 0; k <= TOUCHED; k++) store<f64>(into + <usize>k * step, 0)
  return n
}

@inline
function total(pair: v128): f64 {
  return f64x2.extract_lane(pair, 0) + f64x2.extract_lane(pair, 1)
}

@inline
function add(at: usize, value: f64): void {
  store<f64>(at, load<f64>(at) + value)
}

/** Adds the products of two columns with two others to a block of four cells, `row` bytes from one row to the next. */
function crossSums(a: usize, c: usize, step: usize, count: i32, cell: usize, row: usize): void {
  let ac = f64x2.splat(0)
  let ad = f64x2.splat(0)
  let bc = f64x2.splat(0)
  let bd = f64x2.splat(0)
  for (const end = a + 8 * count; a < end; a += 16, c += 16) {
    const p = v128.load(a)
    const q = v128.load(a + step)
    const r = v128.load(c)
    const s = v128.load(c + step)
    ac = f64x2.add(ac, f64x2.mul(p, r))
    ad = f64x2.add(ad, f64x2.mul(p, s))
    bc = f64x2.add(bc, f64x2.mul(q, r))
    bd = f64x2.add(bd, f64x2.mul(q, s))
  }
  add(cell, total(ac))
  add(cell + 8, total(ad))
  add(cell + row, total(bc))
  add(cell + row + 8, total(bd))
}

/** Sum of the products of two columns. */
function dot(a: usize, b: usize, count: i32): f64 {
  let sum = f64x2.splat(0)
  for (const end = a + 8 * count; a < end; a += 16, b += 16) sum = f64x2.add(sum, f64x2.mul(v128.load(a), v128.load(b)))
  return total(sum)
}

/**
 * Residuals and normal equations of the stroke model, interval after interval.
 * @param starts first pixel of each interval, and one beyond the last
 * @param lower normal matrix, `size` numbers to a row; its lower triangle is meant
 * @param right right-hand sides, then the sum of the weights and of weight × residual²
 */
export function strokeSystem(pixels: usize, room: i32, starts: usize, intervals: i32, state: usize, columns: usize, lower: usize, right: usize): void {
  const size = FIXED + intervals + 1
  const step: usize = 8 * room
  memory.fill(lower, 0, 8 * size * size)
  memory.fill(right, 0, 8 * (size + 2))
  const left = columns + <usize>TOUCHED * step
  const level = columns + <usize>LEVEL * step
  for (let interval = 0; interval < intervals; interval++) {
    const count = fillColumns(pixels, room, load<i32>(starts + 4 * interval), load<i32>(starts + 4 * interval, 4), interval, intervals, state, columns)
    for (let m = 0; m < TOUCHED; m += 2) {
      const row = m < FIXED ? m : m + interval
      const a = columns + <usize>m * step
      for (let n = 0; n <= m; n += 2) crossSums(a, columns + <usize>n * step, step, count, lower + 8 * (row * size + (n < FIXED ? n : n + interval)), 8 * size)
      add(right + 8 * row, dot(a, left, count))
      add(right + 8 * row + 8, dot(a + step, left, count))
    }
    add(right + 8 * size, dot(level, level, count))
    add(right + 8 * size + 8, dot(left, left, count))
  }
}
