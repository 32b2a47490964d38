/**
 * Sums of grey over factor × factor boxes.
 * @param across pixels of a row of the photo
 * @param column room for the sums of the `factor` pixels one below the other: two bytes for each of `across`
 */
export function boxSums(grey: usize, across: i32, factor: i32, width: i32, height: i32, column: usize, into: usize): void {
  for (let y = 0; y < height; y++) {
    columnSums(grey + y * factor * across, across, factor, column)
    for (let x = 0, at = column; x < width; x++, into += 4) {
      let sum: u32 = 0
      for (const end = at + 2 * factor; at < end; at += 2) sum += load<u16>(at)
      store<u32>(into, sum)
    }
  }
}

function columnSums(grey: usize, across: i32, factor: i32, column: usize): void {
  for (let x = 0; x < across; x += 16) {
    let low = i16x8.splat(0)
    let high = i16x8.splat(0)
    for (let j = 0, at = grey + x; j < factor; j++, at += across) {
      const pixels = v128.load(at)
      low = i16x8.add(low, i16x8.extend_low_i8x16_u(pixels))
      high = i16x8.add(high, i16x8.extend_high_i8x16_u(pixels))
    }
    v128.store(column + 2 * x, low)
    v128.store(column + 2 * x, high, 16)
  }
}

/** Means from sums over boxes of `area` pixels, rounded down to bytes. */
export function means(sums: usize, count: i32, area: u32, into: usize): void {
  for (let i = 0; i < count; i++) store<u8>(into + i, <u8>(load<u32>(sums + (i << 2)) / area))
}

/** Looks up whole numbers in a table. */
export function look(numbers: usize, count: i32, table: usize, into: usize): void {
  for (let i = 0; i < count; i++) store<f32>(into + (i << 2), load<f32>(table + (load<u32>(numbers + (i << 2)) << 2)))
}

/**
 * Weighs each point with its neighbours down and across; beyond the border its nearest points go on.
 * @param taps weight of the point itself, then of those 1 … radius away
 * @param spans for each row from which column to before which it is wanted; the rest is 0
 * @param line room for a row and `radius` points on each side
 */
export function smooth(plane: usize, width: i32, height: i32, taps: usize, radius: i32, spans: usize, line: usize, into: usize): void {
  memory.fill(into, 0, 4 * width * height)
  const row = line + 4 * radius
  for (let y = 0; y < height; y++) {
    const from = load<i32>(spans + 8 * y)
    const to = load<i32>(spans + 8 * y, 4)
    if (from >= to) continue
    weighDown(plane, width, height, y, max(0, from - radius), min(width, to + radius), taps, radius, row)
    for (let i = 1; i <= radius; i++) {
      store<f32>(row - 4 * i, load<f32>(row))
      store<f32>(row + 4 * (width - 1 + i), load<f32>(row + 4 * (width - 1)))
    }
    weighAcross(row + 4 * from, to - from, taps, radius, into + 4 * (y * width + from))
  }
}

function weighDown(plane: usize, width: i32, height: i32, y: i32, from: i32, to: i32, taps: usize, radius: i32, row: usize): void {
  const own = plane + 4 * y * width
  const centre = v128.load_splat<f32>(taps)
  for (let x = 4 * from; x < 4 * to; x += 16) v128.store(row + x, f32x4.mul(centre, v128.load(own + x)))
  for (let i = 1; i <= radius; i++) {
    const above = plane + 4 * max(0, y - i) * width
    const below = plane + 4 * min(height - 1, y + i) * width
    const tap = v128.load_splat<f32>(taps + 4 * i)
    for (let x = 4 * from; x < 4 * to; x += 16) {
      v128.store(row + x, f32x4.add(v128.load(row + x), f32x4.mul(tap, f32x4.add(v128.load(above + x), v128.load(below + x)))))
    }
  }
}

function weighAcross(row: usize, count: i32, taps: usize, radius: i32, into: usize): void {
  let x = 0
  for (; x + 4 <= count; x += 4) v128.store(into + 4 * x, weighed(row + 4 * x, taps, radius))
  // Beyond the last whole four is another row's part.
  for (; x < count; x++) store<f32>(into + 4 * x, f32x4.extract_lane(weighed(row + 4 * x, taps, radius), 0))
}

@inline
function weighed(at: usize, taps: usize, radius: i32): v128 {
  let sum = f32x4.mul(v128.load_splat<f32>(taps), v128.load(at))
  for (let i = 1; i <= radius; i++) sum = f32x4.add(sum, f32x4.mul(v128.load_splat<f32>(taps + 4 * i), f32x4.add(v128.load(at - 4 * i), v128.load(at + 4 * i))))
  return sum
}
