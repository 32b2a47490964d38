import type { Point, Raster } from '#core/detect/raster'
import { applyHomography, fitHomography, type Homography } from '#core/numeric/homography'
import { type DrawnStroke, drawRaster, seededRandom } from '../draw-raster.ts'

/** Picture of a wall strip, simulated: mm on the wall seen through a homography. */
export interface DrawnStrip {
  readonly size?: readonly [number, number]
  readonly map: Homography
  /** mm along the line. */
  readonly marks: readonly number[]
  readonly ruler?: { readonly step: number; readonly count: number; readonly at: number; readonly side: 1 | -1; readonly length: (n: number) => number }
  /** Heights of rules printed along the line through the whole picture, mm. */
  readonly rules?: readonly number[]
  /** Bits of writing: so many short strokes of any direction above the marks' row. */
  readonly writing?: number
  /** Block letters 4 mm high in a line from 27 mm on, such as a maker's words on a ruler. */
  readonly letters?: string
  readonly seed?: number
  /** How unevenly the marks begin and end, mm. */
  readonly untidy?: number
  /** How far the strokes run along the line for each mm across it. */
  readonly slant?: number
  readonly ground?: (x: number, y: number) => number
}

/** The homography that takes four points of the wall (mm) to four of the picture (px). */
export const seenAs = (wall: readonly Point[], px: readonly Point[]): Homography => fitHomography(wall, px) as Homography

/** Positions as uneven as microsteps are, mm (seeded). */
export const unevenPlaces = (count: number, step: number, seed = 1): number[] => {
  const random = seededRandom(seed)
  let place = 10
  return Array.from({ length: count }, () => (place += step * (0.6 + 0.8 * random())))
}

/** Strokes of block letters, from and to in widths and heights of a letter. */
const LETTERS: Record<string, readonly (readonly [number, number, number, number])[]> = {
  E: [[0, 0, 0, 1], [0, 0, 1, 0], [0, 0.5, 0.8, 0.5], [0, 1, 1, 1]],
  H: [[0, 0, 0, 1], [1, 0, 1, 1], [0, 0.5, 1, 0.5]],
  M: [[0, 0, 0, 1], [1, 0, 1, 1], [0, 0, 0.5, 0.6], [0.5, 0.6, 1, 0]],
  O: [[0.3, 0, 0.7, 0], [0.7, 0, 1, 0.3], [1, 0.3, 1, 0.7], [1, 0.7, 0.7, 1], [0.7, 1, 0.3, 1], [0.3, 1, 0, 0.7], [0, 0.7, 0, 0.3], [0, 0.3, 0.3, 0]],
  R: [[0, 0, 0, 1], [0, 0, 0.7, 0], [0.7, 0, 1, 0.25], [1, 0.25, 0.7, 0.5], [0.7, 0.5, 0, 0.5], [0.4, 0.5, 1, 1]],
  S: [[1, 0.15, 0.6, 0], [0.6, 0, 0.1, 0.1], [0.1, 0.1, 0.1, 0.35], [0.1, 0.35, 0.9, 0.65], [0.9, 0.65, 0.9, 0.9], [0.9, 0.9, 0.4, 1], [0.4, 1, 0, 0.85]],
  T: [[0, 0, 1, 0], [0.5, 0, 0.5, 1]],
  U: [[0, 0, 0, 1], [1, 0, 1, 1], [0, 1, 1, 1]],
}

export const drawStrip = ({ size = [1200, 500], map, marks, ruler, rules = [], writing = 0, letters = '', seed = 1, untidy = 1.2, slant = 0, ground }: DrawnStrip): Raster => {
  const random = seededRandom(seed + 50)
  const px = (x: number, y: number): Point => applyHomography(map, [x, y])
  const widthAt = (x: number, y: number, mm: number): number => Math.hypot(px(x + mm, y)[0] - px(x, y)[0], px(x + mm, y)[1] - px(x, y)[1])
  const through = (x: number, y: number): Point => px(x + slant * (y - 29.5), y)
  const pen = marks.map((x): DrawnStroke => ({ from: through(x, 25 + untidy * (2 * random() - 1)), to: through(x, 34 + untidy * (2 * random() - 1)), width: widthAt(x, 30, 0.6), dark: 110 }))
  const ticks = ruler === undefined ? [] : Array.from({ length: ruler.count }, (_, n): DrawnStroke => {
    const x = 2 + n * ruler.step
    return { from: px(x, ruler.at), to: px(x, ruler.at + ruler.side * ruler.length(n)), width: widthAt(x, ruler.at, Math.min(0.25, 0.3 * ruler.step)), dark: 120 }
  })
  const bits = Array.from({ length: writing }, (): DrawnStroke => {
    const [x, y, turn, length] = [10 + 140 * random(), 5 + 30 * random(), Math.PI * random(), 2 + 2 * random()]
    return { from: px(x, y), to: px(x + length * Math.cos(turn), y + length * Math.sin(turn)), width: widthAt(x, y, 0.4), dark: 110 }
  })
  const words = [...letters].flatMap((letter, n) => (LETTERS[letter] ?? []).map(([x0, y0, x1, y1]): DrawnStroke => {
    const [left, top] = [12 + 3.7 * n, 27]
    return { from: px(left + 2.4 * x0, top + 4 * y0), to: px(left + 2.4 * x1, top + 4 * y1), width: widthAt(left, top, 0.5), dark: 120 }
  }))
  const printed = rules.map((y): DrawnStroke => ({ from: px(-10, y), to: px(170, y), width: widthAt(80, y, 0.25), dark: 60 }))
  return drawRaster(size, [...printed, ...pen, ...ticks, ...bits, ...words], { noise: 2, seed, ...(ground === undefined ? {} : { ground }) })
}

/** A millimetre ruler's tick lengths, mm. */
export const millimetres = (n: number): number => (n % 10 === 0 ? 6 : n % 5 === 0 ? 4.5 : 3)
