// Horizontal runs of dark pixels in reading order, three i32 columns of `room` each: row, first column, column after the last.

function addRow(sums: usize, row: usize, width: i32, sign: i32): void {
  for (let x = 0; x < width; x++) store<i32>(sums + 4 * x, load<i32>(sums + 4 * x) + sign * <i32>load<u8>(row + x))
}

/**
 * Runs of pixels darker than `ratio` times the mean of the square window of side 2·half + 1 about them (cut at the picture's edge),
 * as far as there is room.
 * @param sums room for `width` column sums (i32) and, behind, as many running totals (i32) and one more
 * @returns how many there are
 */
export function darkRuns(grey: usize, width: i32, height: i32, half: i32, ratio: f64, sums: usize, runs: usize, room: i32): i32 {
  const totals = sums + 4 * width
  memory.fill(sums, 0, 4 * (2 * width + 1))
  for (let y = 0; y < min(half, height); y++) addRow(sums, grey + y * width, width, 1)
  let count = 0
  for (let y = 0; y < height; y++) {
    if (y + half < height) addRow(sums, grey + (y + half) * width, width, 1)
    if (y - half - 1 >= 0) addRow(sums, grey + (y - half - 1) * width, width, -1)
    for (let x = 0; x < width; x++) store<i32>(totals + 4 * x, load<i32>(totals + 4 * x) + load<i32>(sums + 4 * x), 4)
    const share = ratio / <f64>(min(height - 1, y + half) - max(0, y - half) + 1)
    let start = -1
    for (let x = 0; x <= width && count < room; x++) {
      const low = max(0, x - half)
      const high = min(width, x + half + 1)
      const dark = x < width && <f64>(<i32>load<u8>(grey + y * width + x) * (high - low)) < share * <f64>(load<i32>(totals + 4 * high) - load<i32>(totals + 4 * low))
      if (dark && start < 0) start = x
      if (dark || start < 0) continue
      const run = runs + 4 * count++
      store<i32>(run, y)
      store<i32>(run + 4 * room, start)
      store<i32>(run + 8 * room, x)
      start = -1
    }
  }
  return count
}

/** The one run that stands for all of a run's area. */
function rootOf(parents: usize, index: i32): i32 {
  let root = index
  while (load<i32>(parents + 4 * root) !== root) root = load<i32>(parents + 4 * root)
  for (let walk = index; walk !== root; ) {
    const next = load<i32>(parents + 4 * walk)
    store<i32>(parents + 4 * walk, root)
    walk = next
  }
  return root
}

/**
 * Finds out which runs touch, corners included (`reach` 1) or not (0).
 * @param roots for each run the one that stands for all of its area
 */
export function joinRuns(runs: usize, room: i32, count: i32, reach: i32, roots: usize): void {
  const from = runs + 4 * room
  const to = runs + 8 * room
  for (let run = 0; run < count; run++) store<i32>(roots + 4 * run, run)
  let above = 0
  for (let run = 0; run < count; run++) {
    const row = load<i32>(runs + 4 * run)
    const start = load<i32>(from + 4 * run)
    const end = load<i32>(to + 4 * run)
    while (above < run && (load<i32>(runs + 4 * above) < row - 1 || (load<i32>(runs + 4 * above) === row - 1 && load<i32>(to + 4 * above) + reach <= start))) above++
    for (let other = above; other < run && load<i32>(runs + 4 * other) === row - 1 && load<i32>(from + 4 * other) < end + reach; other++) {
      store<i32>(roots + 4 * rootOf(roots, run), rootOf(roots, other))
    }
  }
  for (let run = 0; run < count; run++) store<i32>(roots + 4 * run, rootOf(roots, run))
}

/** Numbers to an area: pixels, sums of x, y, x², x·y, y², least and greatest x, least and greatest y, the latter each one beyond. */
const AREA = 80

function squaresBelow(k: f64): f64 {
  return ((k - 1) * k * (2 * k - 1)) / 6
}

@inline
function add(at: usize, value: f64): void {
  store<f64>(at, load<f64>(at) + value)
}

/**
 * Sums over the pixels of each connected area.
 * @param slots room for one i32 for each run
 * @param areas ten numbers for each area
 * @returns how many areas there are
 */
export function sumAreas(runs: usize, room: i32, count: i32, roots: usize, slots: usize, areas: usize): i32 {
  let found = 0
  memory.fill(slots, 0xff, 4 * count)
  for (let run = 0; run < count; run++) {
    const row = <f64>load<i32>(runs + 4 * run)
    const from = <f64>load<i32>(runs + 4 * run + 4 * room)
    const to = <f64>load<i32>(runs + 4 * run + 8 * room)
    const slot = slots + 4 * load<i32>(roots + 4 * run)
    const fresh = load<i32>(slot) < 0
    if (fresh) store<i32>(slot, found++)
    const at = areas + AREA * load<i32>(slot)
    if (fresh) {
      memory.fill(at, 0, AREA)
      store<f64>(at, from, 48)
      store<f64>(at, row, 64)
    }
    const n = to - from
    const x = (n * (from + to - 1)) / 2
    add(at, n)
    add(at + 8, x)
    add(at + 16, n * row)
    add(at + 24, squaresBelow(to) - squaresBelow(from))
    add(at + 32, x * row)
    add(at + 40, n * row * row)
    store<f64>(at, Math.min(load<f64>(at, 48), from), 48)
    store<f64>(at, Math.max(load<f64>(at, 56), to), 56)
    store<f64>(at, row + 1, 72)
  }
  return found
}
