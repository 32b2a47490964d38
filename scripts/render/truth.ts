import type { Px } from './camera.ts'
import type { Mm } from './ink-sheet.ts'

export const DIFFICULTIES = ['clean', 'textured', 'plain', 'cropped', 'hard', 'sheet', 'strip', 'circle'] as const
export type Difficulty = (typeof DIFFICULTIES)[number]

/** What is known about one inked mark of a rendered photo. Angles in deg, lengths in mm on the paper, px of the upright photo. */
export interface TrueMark {
  readonly commands: readonly number[]
  /** Bearing where the shaft pointed; null on a strip. */
  readonly commandedDeg: number | null
  /** Bearing of the visible ink's centroid about the true shaft centre; null on a strip. */
  readonly drawnDeg: number | null
  /** Direction of the visible ink's axis (an off-radial mark leans away from drawnDeg); null on a strip. */
  readonly axisDeg: number | null
  /** Strip: where the spot was, and where the ink's centroid is, along the line. */
  readonly commandedMm: number | null
  readonly drawnMm: number | null
  readonly endsMm: readonly [Mm, Mm]
  readonly endsPx: readonly [Px, Px]
  readonly centroidPx: Px
  readonly widthMm: number
  readonly widthPx: number
  /** Share of its ink that nothing covers; below 0.35 it need not be found. */
  readonly visible: number
  /** Least standard deviation any unbiased reading of this mark's position can have, deg (strip: mm), from stroke, blur and noise. */
  readonly bound: number
  /** Index into groups. */
  readonly group: number
}

/** Marks that lie so close that a reader may count them together. */
export interface TrueGroup {
  readonly marks: readonly number[]
  readonly kind: 'single' | 'merged' | 'overlapping' | 'touching'
  /** How many distinct marks may fairly be read here. */
  readonly distinct: readonly [min: number, max: number]
}

export interface Truth {
  readonly schema: 'stepwitness/render-truth@1'
  readonly simulated: true
  readonly note: string
  readonly seed: number
  readonly difficulty: Difficulty
  readonly photo: { readonly file: string; readonly width: number; readonly height: number; readonly orientation: number; readonly format: string; readonly quality: number }
  readonly rig: 'pointer' | 'mirror'
  readonly motor: { readonly stepsPerRev: number; readonly microsteps: number; readonly commands: number; readonly fullTurn: boolean }
  readonly paper: { readonly name: string; readonly sizeMm: Mm; readonly cornersPx: readonly Px[]; readonly cornersInView: boolean }
  readonly centreMm: Mm | null
  readonly centrePx: Px | null
  readonly pixelsPerMm: number
  readonly camera: { readonly tiltDeg: number; readonly rollDeg: number; readonly k1: number; readonly focalPx: number; readonly forward: readonly number[] }
  readonly sensor: { readonly blurPx: number; readonly motionPx: readonly [number, number]; readonly noise: number; readonly sharpen: number }
  readonly ink: string
  readonly marks: readonly TrueMark[]
  readonly groups: readonly TrueGroup[]
  /** How many distinct marks a fair reader may report. */
  readonly distinct: readonly [min: number, max: number]
  readonly clutter: readonly string[]
}

export const TRUTH_NOTE =
  'Simulated photo. px: upright photo (rotation tag honoured), x right, y down, centre of the first pixel (0, 0). Bearings: deg counter-clockwise as seen on the paper about the true shaft centre; zero points to the right edge of the upright sheet.'
