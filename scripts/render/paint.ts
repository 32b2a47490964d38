import { undistortion } from './camera.ts'
import { cellAt, cellIsEmpty, shineThrough } from './ink-sheet.ts'
import { lightAt } from './light.ts'
import { paperColour } from './paper.ts'
import { eachPrinted, printAt } from './print.ts'
import type { Scene } from './scene.ts'
import { tableColour } from './table.ts'

/** A part of the picture in linear light, one plane per colour, rows `from` … `from + rows - 1`. */
export interface Band {
  readonly width: number
  readonly rows: number
  readonly from: number
  readonly planes: readonly [Float32Array, Float32Array, Float32Array]
}

/** Maps pixels to the paper fast: the distortion comes from a table over the squared radius. */
export const createView = (scene: Scene): ((u: number, v: number, out: Float64Array) => void) => {
  const { camera } = scene
  const [cx, cy] = [(camera.width - 1) / 2, (camera.height - 1) / 2]
  const f2 = camera.focalPx ** 2
  const top = ((cx + 4) ** 2 + (cy + 4) ** 2) / f2
  const entries = 2048
  const scales = Float64Array.from({ length: entries + 2 }, (_, i) => undistortion(camera.k1, (top * 1.3 * i) / entries))
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, k = 1] = camera.inverse
  return (u, v, out) => {
    const place = (((u - cx) ** 2 + (v - cy) ** 2) / f2 / (top * 1.3)) * entries
    const i = Math.min(entries, Math.floor(place))
    const s0 = scales[i] ?? 1
    const scale = s0 + ((scales[i + 1] ?? s0) - s0) * (place - i)
    const x = cx + (u - cx) * scale
    const y = cy + (v - cy) * scale
    const w = g * x + h * y + k
    out[0] = (a * x + b * y + c) / w
    out[1] = (d * x + e * y + f) / w
  }
}

const LAYERED = 1
const PRINTED = 2

/** Flags every cell that a pixel over a printed point may be looked up in. */
const flagAround = (scene: Scene, flags: Uint8Array, x: number, y: number): void => {
  for (const dx of [-0.5, 0.5])
    for (const dy of [-0.5, 0.5]) {
      const cell = cellAt(scene.ink, x + dx, y + dy)
      if (cell >= 0) flags[cell] = (flags[cell] ?? 0) | PRINTED
    }
}

/** Tells which cells of the ink grid hold a layer or print. */
const solidCells = (scene: Scene): Uint8Array => {
  const { columns, rows, cellMm } = scene.ink
  const flags = new Uint8Array(columns * rows)
  for (const { boxMm } of scene.layers)
    for (let r = Math.max(0, Math.floor(boxMm[1] / cellMm)); r <= Math.min(rows - 1, boxMm[3] / cellMm); r++)
      for (let c = Math.max(0, Math.floor(boxMm[0] / cellMm)); c <= Math.min(columns - 1, boxMm[2] / cellMm); c++)
        flags[r * columns + c] = LAYERED
  if (scene.print !== null) eachPrinted(scene.print, (x, y) => flagAround(scene, flags, x, y))
  return flags
}

/** Light that the table loses under the sheet's edge. */
const edgeShadow = (scene: Scene, x: number, y: number): number => {
  const [w, h] = scene.paper.sizeMm
  const d = Math.hypot(Math.max(-x - 0.3, 0, x - w - 0.5), Math.max(-y - 0.3, 0, y - h - 0.6))
  return 1 - 0.4 * Math.exp(-d / 0.7)
}

const layered = (scene: Scene, x: number, y: number, colour: Float64Array): void => {
  const over = layerScratch
  for (const layer of scene.layers) {
    const [x0, y0, x1, y1] = layer.boxMm
    if (x < x0 || x > x1 || y < y0 || y > y1) continue
    const shade = layer.shade(x, y)
    const hidden = layer.paint(x, y, over)
    for (let c = 0; c < 3; c++) colour[c] = (colour[c] ?? 0) * shade * (1 - hidden) + (over[c] ?? 0) * hidden
  }
}
const layerScratch = new Float64Array(3)

const LIGHT_STEP = 4

/** Draws rows of the picture in linear light. */
export const createPainter = (scene: Scene): ((from: number, rows: number) => Band) => {
  const view = createView(scene)
  const flags = solidCells(scene)
  const [paperWidth, paperHeight] = scene.paper.sizeMm
  const { width, height } = scene.camera
  const here = new Float64Array(2)
  const right = new Float64Array(2)
  const below = new Float64Array(2)
  const base = new Float64Array(3)
  const colour = new Float64Array(3)
  const sum = new Float64Array(3)
  const n = scene.samples

  const sample = (x: number, y: number, cell: number): void => {
    colour.set(base)
    const flag = cell < 0 ? 0 : (flags[cell] ?? 0)
    if ((flag & PRINTED) !== 0 && scene.print !== null) {
      const left = printAt(scene.print, x, y)
      for (let c = 0; c < 3; c++) colour[c] = (colour[c] ?? 0) * left
    }
    if (!cellIsEmpty(scene.ink, cell)) shineThrough(scene.ink, cell, [x, y], colour)
    if ((flag & LAYERED) !== 0) layered(scene, x, y, colour)
  }

  const edgePixel = (u: number, v: number, cell: number, onBorder: boolean): void => {
    view(u + 1, v, right)
    view(u, v + 1, below)
    sum.fill(0)
    const [ax, ay, bx, by] = [(right[0] ?? 0) - (here[0] ?? 0), (right[1] ?? 0) - (here[1] ?? 0), (below[0] ?? 0) - (here[0] ?? 0), (below[1] ?? 0) - (here[1] ?? 0)]
    for (let j = 0; j < n; j++)
      for (let i = 0; i < n; i++) {
        const p = (i + 0.5) / n - 0.5
        const q = (j + 0.5) / n - 0.5
        const x = (here[0] ?? 0) + p * ax + q * bx
        const y = (here[1] ?? 0) + p * ay + q * by
        const off = onBorder && (x < 0 || y < 0 || x > paperWidth || y > paperHeight)
        if (off) {
          tableColour(scene.table, scene.tile, [x, y, footprint], colour)
          const shade = edgeShadow(scene, x, y)
          for (let c = 0; c < 3; c++) colour[c] = (colour[c] ?? 0) * shade
        } else sample(x, y, cell)
        for (let c = 0; c < 3; c++) sum[c] = (sum[c] ?? 0) + (colour[c] ?? 0)
      }
    for (let c = 0; c < 3; c++) colour[c] = (sum[c] ?? 0) / (n * n)
  }

  let footprint = 0.2
  const pixel = (u: number, v: number): void => {
    view(u, v, here)
    const x = here[0] ?? 0
    const y = here[1] ?? 0
    if ((u & 15) === 0) {
      view(u + 1, v, right)
      footprint = Math.hypot((right[0] ?? 0) - x, (right[1] ?? 0) - y)
    }
    const out = Math.max(-x, -y, x - paperWidth, y - paperHeight)
    if (out > 1.5 * footprint) {
      tableColour(scene.table, scene.tile, [x, y, footprint], colour)
      const shade = out < 6 ? edgeShadow(scene, x, y) : 1
      for (let c = 0; c < 3; c++) colour[c] = (colour[c] ?? 0) * shade
      return
    }
    paperColour(scene.paper, scene.tile, [x, y, footprint], base)
    const cell = cellAt(scene.ink, x, y)
    const onBorder = out > -1.5 * footprint
    if (onBorder || (cell >= 0 && ((flags[cell] ?? 0) > 0 || !cellIsEmpty(scene.ink, cell)))) edgePixel(u, v, cell, onBorder)
    else colour.set(base)
  }

  /** Light varies slowly: it is worked out every few pixels of a row and drawn straight in between. */
  const levels = new Float64Array(width + LIGHT_STEP + 1)
  const lightRow = (v: number): void => {
    const level = (u: number): number => {
      view(u, v, here)
      const away = ((u - width / 2) ** 2 + (v - height / 2) ** 2) / ((width / 2) ** 2 + (height / 2) ** 2)
      return lightAt(scene.light, here[0] ?? 0, here[1] ?? 0) * (1 - scene.light.vignette * away)
    }
    let before = level(0)
    for (let u = 0; u < width; u += LIGHT_STEP) {
      const after = level(u + LIGHT_STEP)
      for (let i = 0; i < LIGHT_STEP; i++) levels[u + i] = before + ((after - before) * i) / LIGHT_STEP
      before = after
    }
  }

  return (from, rows) => {
    const planes = [0, 1, 2].map(() => new Float32Array(width * rows)) as [Float32Array, Float32Array, Float32Array]
    for (let row = 0; row < rows; row++) {
      lightRow(from + row)
      for (let u = 0; u < width; u++) {
        pixel(u, from + row)
        const level = levels[u] ?? 0
        for (let c = 0; c < 3; c++) {
          const plane = planes[c]
          if (plane !== undefined) plane[row * width + u] = (colour[c] ?? 0) * level * (scene.light.tint[c] ?? 1)
        }
      }
    }
    return { width, rows, from, planes }
  }
}
