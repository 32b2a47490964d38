/** Appends the centre-line points of a row's columns `from` to before `to` as long as there is room; returns how many there are then. */
export function scan(plane: usize, width: i32, row: i32, from: i32, to: i32, least: f64, at: usize, points: usize, room: i32, count: i32): i32 {
  const limit = f32x4.splat(<f32>(0.59 * least))
  const start = plane + 4 * row * width
  for (let column = from; column < to; column += 4) {
    const p = start + 4 * column
    const around = f32x4.add(f32x4.add(v128.load(p - 4), v128.load(p + 4)), f32x4.add(v128.load(p - 4 * width), v128.load(p + 4 * width)))
    const curved = f32x4.gt(f32x4.sub(around, f32x4.mul(v128.load(p), f32x4.splat(4))), limit)
    if (!v128.any_true(curved)) continue
    for (let k = column; k < min(to, column + 4) && count < room; k++) {
      if (!appendPoint(start + 4 * k, width, row, k, least, points + 4 * count, room)) continue
      store<i32>(at + 4 * (row * width + k), count++)
    }
  }
  return count
}

/** Writes the centre-line point in a pixel, if there is one: x, y, the unit vector along the line, and the curvature across. */
function appendPoint(p: usize, width: i32, row: i32, column: i32, least: f64, into: usize, room: i32): bool {
  const above = p - 4 * width
  const below = p + 4 * width
  const c = <f64>load<f32>(p)
  const left = <f64>load<f32>(p - 4)
  const right = <f64>load<f32>(p + 4)
  const up = <f64>load<f32>(above)
  const down = <f64>load<f32>(below)
  const xx = left + right - 2 * c
  const yy = up + down - 2 * c
  if (xx + yy < 0.6 * least) return false
  const xy = (<f64>load<f32>(above - 4) + <f64>load<f32>(below + 4) - <f64>load<f32>(above + 4) - <f64>load<f32>(below - 4)) / 4
  const half = (xx - yy) / 2
  const size = Math.sqrt(half * half + xy * xy)
  const curvature = (xx + yy) / 2 + size
  if (curvature < least) return false
  // Across the line: half the angle of (half, xy), the larger part first and the other by their product.
  let nx = 1.0
  let ny = 0.0
  if (size > 0) {
    const larger = Math.sqrt((1 + Math.abs(half) / size) / 2)
    const other = xy / (2 * size * larger)
    nx = half >= 0 ? larger : Math.abs(other)
    ny = half >= 0 ? other : copysign<f64>(larger, xy)
  }
  const shift = -(((right - left) / 2) * nx + ((down - up) / 2) * ny) / curvature
  if (Math.abs(shift * nx) > 0.6 || Math.abs(shift * ny) > 0.6) return false
  store<f32>(into, <f32>(<f64>column + shift * nx))
  store<f32>(into + 4 * room, <f32>(<f64>row + shift * ny))
  store<f32>(into + 8 * room, <f32>curvature)
  store<f32>(into + 12 * room, <f32>-ny)
  store<f32>(into + 16 * room, <f32>nx)
  return true
}

/** Sizes of the Laplacian at every `step`-th of a row's columns `from` to before `to`; returns how many. */
export function laplacians(plane: usize, width: i32, row: i32, from: i32, to: i32, step: i32, into: usize): i32 {
  let count = 0
  for (let x = from; x < to; x += step) {
    const p = plane + 4 * (row * width + x)
    const around = <f64>load<f32>(p - 4) + <f64>load<f32>(p + 4) + <f64>load<f32>(p - 4 * width) + <f64>load<f32>(p + 4 * width)
    store<f64>(into + 8 * count++, Math.abs(around - 4 * <f64>load<f32>(p)))
  }
  return count
}
