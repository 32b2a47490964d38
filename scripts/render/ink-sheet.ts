import type { Ink } from './ink.ts'
import { type NoiseTile, sampleNoise } from './noise-tile.ts'

export type Mm = readonly [x: number, y: number]

/** A line of ink through points on the paper, mm from the sheet's upper left corner, y down. */
export interface Stroke {
  readonly points: readonly Mm[]
  readonly ink: Ink
  /** Full width, one per point or one for all, mm. */
  readonly widthMm: number | readonly number[]
  /** Amount of ink, 1 as a rule; one per point or one for all. */
  readonly density: number | readonly number[]
}

/** All strokes cut into short capsules, with a grid that finds those near a point. */
export interface InkSheet {
  readonly strokes: readonly Stroke[]
  /** Eight numbers per capsule: x0, y0, x1, y1, half width, density at 0, density at 1, stroke index. */
  readonly capsules: Float64Array
  readonly columns: number
  readonly rows: number
  readonly cellMm: number
  readonly starts: Int32Array
  readonly members: Int32Array
  readonly grain: NoiseTile
}

const FIELDS = 8
/** Capsules are listed in every cell that lies this close, so that a whole pixel can be served from one cell. */
const REACH_MM = 1.2

const at = (value: number | readonly number[], index: number): number =>
  typeof value === 'number' ? value : (value[Math.min(index, value.length - 1)] ?? 0)

const cutStroke = (stroke: Stroke, index: number): number[] => {
  const out: number[] = []
  for (let i = 0; i + 1 < stroke.points.length; i++) {
    const a = stroke.points[i] ?? [0, 0]
    const b = stroke.points[i + 1] ?? a
    const half = (at(stroke.widthMm, i) + at(stroke.widthMm, i + 1)) / 4
    out.push(a[0], a[1], b[0], b[1], half, at(stroke.density, i), at(stroke.density, i + 1), index)
  }
  return out
}

interface Grid {
  readonly columns: number
  readonly rows: number
  readonly cellMm: number
}

const eachCellOf = (capsules: Float64Array, index: number, grid: Grid, visit: (cell: number) => void): void => {
  const o = index * FIELDS
  const [x0 = 0, y0 = 0, x1 = 0, y1 = 0, half = 0] = capsules.subarray(o, o + 5)
  const reach = half + REACH_MM
  const clampColumn = (x: number): number => Math.max(0, Math.min(grid.columns - 1, Math.floor(x / grid.cellMm)))
  const clampRow = (y: number): number => Math.max(0, Math.min(grid.rows - 1, Math.floor(y / grid.cellMm)))
  for (let r = clampRow(Math.min(y0, y1) - reach); r <= clampRow(Math.max(y0, y1) + reach); r++)
    for (let c = clampColumn(Math.min(x0, x1) - reach); c <= clampColumn(Math.max(x0, x1) + reach); c++) {
      const far = distanceToSegment((c + 0.5) * grid.cellMm, (r + 0.5) * grid.cellMm, x0, y0, x1, y1)
      if (far <= reach + grid.cellMm * 0.7072) visit(r * grid.columns + c)
    }
}

const distanceToSegment = (x: number, y: number, ...[x0, y0, x1, y1]: [number, number, number, number]): number => {
  const dx = x1 - x0
  const dy = y1 - y0
  const squared = dx * dx + dy * dy
  const t = squared > 0 ? Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / squared)) : 0
  return Math.hypot(x - x0 - t * dx, y - y0 - t * dy)
}

/** Lists the strokes for fast look-up on a sheet of the given size, mm. */
export const layInk = (strokes: readonly Stroke[], sizeMm: Mm, grain: NoiseTile): InkSheet => {
  const cellMm = 1.5
  const grid: Grid = { columns: Math.ceil(sizeMm[0] / cellMm), rows: Math.ceil(sizeMm[1] / cellMm), cellMm }
  const capsules = Float64Array.from(strokes.flatMap(cutStroke))
  const total = capsules.length / FIELDS
  const starts = new Int32Array(grid.columns * grid.rows + 1)
  for (let i = 0; i < total; i++) eachCellOf(capsules, i, grid, (cell) => { starts[cell + 1] = (starts[cell + 1] ?? 0) + 1 })
  for (let i = 1; i < starts.length; i++) starts[i] = (starts[i] ?? 0) + (starts[i - 1] ?? 0)
  const fill = starts.slice()
  const members = new Int32Array(starts[starts.length - 1] ?? 0)
  for (let i = 0; i < total; i++)
    eachCellOf(capsules, i, grid, (cell) => {
      const place = fill[cell] ?? 0
      members[place] = i
      fill[cell] = place + 1
    })
  return { strokes, capsules, ...grid, starts, members, grain }
}

/** The grid cell of a point on the paper, -1 off the sheet. */
export const cellAt = (sheet: InkSheet, x: number, y: number): number => {
  const c = Math.floor(x / sheet.cellMm)
  const r = Math.floor(y / sheet.cellMm)
  return c < 0 || r < 0 || c >= sheet.columns || r >= sheet.rows ? -1 : r * sheet.columns + c
}

export const cellIsEmpty = (sheet: InkSheet, cell: number): boolean =>
  cell < 0 || sheet.starts[cell] === sheet.starts[cell + 1]

/** Amount of ink of one capsule at a point: its soft-edged cover times its density; 0 outside. */
const coverOf = (sheet: InkSheet, capsule: number, x: number, y: number): number => {
  const k = sheet.capsules
  const o = capsule * FIELDS
  const x0 = k[o] ?? 0
  const y0 = k[o + 1] ?? 0
  const dx = (k[o + 2] ?? 0) - x0
  const dy = (k[o + 3] ?? 0) - y0
  const squared = dx * dx + dy * dy
  const t = squared > 0 ? Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / squared)) : 0
  const ex = x - x0 - t * dx
  const ey = y - y0 - t * dy
  const edge = sheet.strokes[k[o + 7] ?? 0]?.ink.edgeMm ?? 0.05
  const half = k[o + 4] ?? 0
  const inside = (half + edge - Math.sqrt(ex * ex + ey * ey)) / (2 * edge)
  if (inside <= 0) return 0
  const density = (k[o + 5] ?? 0) * (1 - t) + (k[o + 6] ?? 0) * t
  return inside >= 1 ? density : density * inside * inside * (3 - 2 * inside)
}

/** Ink of one stroke with its grain at a point (for the truth: where the ink lies). */
export const unevenInk = (sheet: InkSheet, stroke: number, amount: number, point: Mm): number => {
  const ink = sheet.strokes[stroke]?.ink
  if (ink === undefined || ink.grain === 0) return amount
  const noise = sampleNoise(sheet.grain, point[0] / ink.grainMm + stroke * 37.7, point[1] / ink.grainMm)
  return amount * Math.max(0, 1 + ink.grain * noise)
}

/** Multiplies `light` (red, green, blue) by what the ink near a point lets through; capsules of one stroke do not add up. */
export const shineThrough = (sheet: InkSheet, cell: number, point: Mm, light: Float64Array): void => {
  const k = sheet.capsules
  const end = sheet.starts[cell + 1] ?? 0
  let stroke = -1
  let most = 0
  for (let i = sheet.starts[cell] ?? 0; i <= end; i++) {
    const capsule = i < end ? (sheet.members[i] ?? 0) : -1
    const owner = capsule < 0 ? -2 : (k[capsule * FIELDS + 7] ?? 0)
    if (owner !== stroke) {
      if (most > 0) absorb(sheet, stroke, unevenInk(sheet, stroke, most, point), light)
      stroke = owner
      most = 0
    }
    if (capsule >= 0) {
      const cover = coverOf(sheet, capsule, point[0], point[1])
      if (cover > most) most = cover
    }
  }
}

const absorb = (sheet: InkSheet, stroke: number, amount: number, light: Float64Array): void => {
  const [r, g, b] = sheet.strokes[stroke]?.ink.absorb ?? [0, 0, 0]
  light[0] = (light[0] ?? 0) * Math.exp(-amount * r)
  light[1] = (light[1] ?? 0) * Math.exp(-amount * g)
  light[2] = (light[2] ?? 0) * Math.exp(-amount * b)
}

/** Amount of ink that one stroke alone leaves at a point, grain included. */
export const inkOfStroke = (sheet: InkSheet, stroke: number, point: Mm): number => {
  const cell = cellAt(sheet, point[0], point[1])
  if (cell < 0) return 0
  let most = 0
  for (let i = sheet.starts[cell] ?? 0; i < (sheet.starts[cell + 1] ?? 0); i++) {
    const capsule = sheet.members[i] ?? 0
    if (sheet.capsules[capsule * FIELDS + 7] === stroke) most = Math.max(most, coverOf(sheet, capsule, point[0], point[1]))
  }
  return most > 0 ? unevenInk(sheet, stroke, most, point) : 0
}
