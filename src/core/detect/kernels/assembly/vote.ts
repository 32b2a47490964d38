// Lines that may point at a centre, six numbers to a line: middle x, y, direction x, y, length, worth.
const LINE = 48
/** A stroke may begin at the shaft, not beyond it: its middle is so far from the centre, as a share of its length, or farther. */
const NEAREST = 0.52

/**
 * Each line votes for every cell that it runs through when carried on, one cell's side at a time.
 * @param long the picture's longer side, px
 * @param left @param top where the grid begins, px
 * @param votes one f32 for each cell, row after row
 */
export function castVotes(lines: usize, count: i32, long: f64, cell: f64, left: f64, top: f64, columns: i32, rows: i32, votes: usize): void {
  memory.fill(votes, 0, 4 * columns * rows)
  for (const end = lines + LINE * count; lines < end; lines += LINE) {
    const length = load<f64>(lines, 32)
    for (let sign = -1.0; sign <= 1; sign += 2) {
      for (let t = NEAREST * length; t < 1.3 * long; t += cell) {
        const column = <i32>Math.floor((load<f64>(lines) + sign * t * load<f64>(lines, 16) - left) / cell)
        const row = <i32>Math.floor((load<f64>(lines, 8) + sign * t * load<f64>(lines, 24) - top) / cell)
        if (column < 0 || row < 0 || column >= columns || row >= rows) break
        const at = votes + 4 * (row * columns + column)
        store<f32>(at, <f32>(<f64>load<f32>(at) + load<f64>(lines, 40)))
      }
    }
  }
}

/** Fewer votes around a cell are no peak. */
const LEAST_VOTES: f32 = 2

/** Does a cell hold more than its four neighbours before it in reading order, and no less than those after it? */
function isPeak(at: usize, row: usize): bool {
  const here = load<f32>(at)
  if (here < LEAST_VOTES) return false
  return here > load<f32>(at - 4) && here >= load<f32>(at + 4) && here > load<f32>(at - row) && here >= load<f32>(at + row) &&
    here > load<f32>(at - row + 4) && here >= load<f32>(at + row - 4) && here > load<f32>(at - row - 4) && here >= load<f32>(at + row + 4)
}

/**
 * Cells with more votes in their 3 × 3 neighbourhood than the cells around them have in theirs.
 * @param sums room for one f32 for each cell: those votes
 * @param peaks which cells they are, in order
 * @returns how many there are
 */
export function findPeaks(votes: usize, columns: i32, rows: i32, sums: usize, peaks: usize): i32 {
  const row: usize = 4 * columns
  memory.fill(sums, 0, 4 * columns * rows)
  for (let y = 1; y < rows - 1; y++) {
    for (let x = 1; x < columns - 1; x++) {
      let sum = 0.0
      for (let at = votes + row * y + 4 * (x - 1), k = 0; k < 3; k++, at += 4) sum += <f64>load<f32>(at - row) + <f64>load<f32>(at) + <f64>load<f32>(at + row)
      store<f32>(sums + row * y + 4 * x, <f32>sum)
    }
  }
  let count = 0
  for (let cell = columns + 1; cell < columns * rows - columns - 1; cell++) if (isPeak(sums + 4 * cell, row)) store<i32>(peaks + 4 * count++, cell)
  return count
}

/** Largest lean of a line that counts, degrees, round after round. */
function limitIn(round: i32): f64 {
  return round === 0 ? 8 : round === 1 ? 5 : 3
}

/** Moves a centre (two numbers) to the point of least robust squared lean for the lines that already nearly point at it. */
export function pullCentre(lines: usize, count: i32, centre: usize): void {
  for (let round = 0; round < 4; round++) {
    const cx = load<f64>(centre)
    const cy = load<f64>(centre, 8)
    let xx = 1e-12
    let xy = 0.0
    let yy = 1e-12
    let bx = 0.0
    let by = 0.0
    for (let line = lines, end = lines + LINE * count; line < end; line += LINE) {
      const mx = load<f64>(line)
      const my = load<f64>(line, 8)
      const length = load<f64>(line, 32)
      const rx = mx - cx
      const ry = my - cy
      const square = rx * rx + ry * ry
      if (square < NEAREST * NEAREST * length * length) continue
      const allowed = (limitIn(round) * Math.PI) / 180 + 1 / length
      const nx = -load<f64>(line, 24)
      const ny = load<f64>(line, 16)
      const aside = Math.abs(rx * nx + ry * ny)
      const ahead = Math.abs(rx * ny - ry * nx)
      // As tan x is below 1.25·x up to 0.7, most lines need no angle.
      if (allowed < 0.7 && aside > 1.25 * allowed * ahead) continue
      const z = Math.atan2(aside, ahead) / allowed
      if (z >= 1) continue
      const weight = ((1 - z * z) * (1 - z * z)) / square
      const offset = nx * mx + ny * my
      xx += weight * nx * nx
      xy += weight * nx * ny
      yy += weight * ny * ny
      bx += weight * nx * offset
      by += weight * ny * offset
    }
    const determinant = xx * yy - xy * xy
    if (!(determinant > 1e-9 * xx * yy)) return
    store<f64>(centre, (yy * bx - xy * by) / determinant)
    store<f64>(centre, (xx * by - xy * bx) / determinant, 8)
  }
}

/** Greatest lean that counts for half or more, rad: short lines show their direction less well. */
const LEAN = (2.2 * Math.PI) / 180
/** A line that leans by this many times what is allowed counts for nothing (exp −16). */
const NO_LONGER = 4.0

/**
 * How many differently directed lines point at a centre: each bin of bearings counts once, by its best line,
 * less what lines of random direction would give.
 * @param bins room for `bearings` + 1 numbers
 */
export function scoreCentre(lines: usize, count: i32, cx: f64, cy: f64, bearings: i32, bins: usize): f64 {
  memory.fill(bins, 0, 8 * (bearings + 1))
  let chance = 0.0
  for (const end = lines + LINE * count; lines < end; lines += LINE) {
    const rx = load<f64>(lines) - cx
    const ry = load<f64>(lines, 8) - cy
    const ux = load<f64>(lines, 16)
    const uy = load<f64>(lines, 24)
    const length = load<f64>(lines, 32)
    const radius = Math.sqrt(rx * rx + ry * ry)
    if (radius < NEAREST * length) continue
    const allowed = LEAN + 0.8 / length
    const most = Math.min(1, radius / (3 * length) + 0.4) * load<f64>(lines, 40)
    // Mean of exp(−lean²) over all directions: allowed·√π/2 over the quarter turn.
    chance += most * Math.min(1, allowed / Math.sqrt(Math.PI))
    const lean = Math.atan2(Math.abs(rx * uy - ry * ux), Math.abs(rx * ux + ry * uy)) / allowed
    if (lean > NO_LONGER) continue
    const bin = bins + 8 * <i32>Math.floor(((Math.atan2(ry, rx) / Math.PI + 1) / 2) * <f64>bearings + 0.5)
    store<f64>(bin, Math.max(load<f64>(bin), Math.exp(-lean * lean) * most))
  }
  let score = -chance
  for (let k = 0; k <= bearings; k++) score += load<f64>(bins + 8 * k)
  return score
}
