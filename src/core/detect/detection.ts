import type { PlaneMap } from './plane-map.ts'
import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import type { Point } from './raster.ts'

/** What a person can tell about a photo; every part is optional. All lengths in px of the upright photo. */
export interface Hints {
  readonly rig?: 'pointer' | 'mirror'
  /** Known sheet, mm (portrait or landscape is found out). */
  readonly paperMm?: readonly [width: number, height: number]
  readonly centrePx?: Point
  /** The sheet's four corners, any order. */
  readonly cornersPx?: readonly [Point, Point, Point, Point]
  readonly expectedMarks?: number
  readonly radiusRangePx?: readonly [min: number, max: number]
  readonly ink?: 'dark' | 'light'
  /** Strip: two points on the line of marks that are a known distance apart. */
  readonly scalePx?: { readonly from: Point; readonly to: Point; readonly mm: number }
  /** Strip: what one tick of a ruler beside the marks is, mm. */
  readonly tickMm?: number
  readonly ignorePx?: readonly { readonly x: number; readonly y: number; readonly width: number; readonly height: number }[]
}

/** Which rung of the rectification ladder was used. */
export type RectifiedBy = 'sheet' | 'paper' | 'corners' | 'ruler' | 'edges' | 'squares' | 'rules' | 'circle' | 'turn' | 'none'

export interface DetectedMark {
  /** Pointer rig: direction about the shaft centre, counter-clockwise as seen, 0 ≤ angle < 360; null on a strip. */
  readonly angleDeg: number | null
  /** Standard uncertainty of angleDeg: the mark's own, the centre's and the perspective's, the turn that all marks share aside; null on a strip. */
  readonly uDeg: number | null
  /** The part of it that is the mark's own, independent from mark to mark: what counts in a difference of neighbours; null on a strip. */
  readonly uOwnDeg: number | null
  /** Strip: position along the line; null for the pointer rig. */
  readonly positionPx: number | null
  /** Strip with known scale, else null. */
  readonly positionMm: number | null
  /** Standard uncertainty of the position on a strip, in mm when positionMm is known, else px: the mark's own, and what scale and perspective leave, the shift that all marks share aside. */
  readonly uPosition: number | null
  /** The part of it that is the mark's own, independent from mark to mark. */
  readonly uOwnPosition: number | null
  /** Ends of the stroke, inner first for the pointer rig. */
  readonly p0: Point
  readonly p1: Point
  readonly widthPx: number
  /** 0 … 1: how surely this is a pen mark; below 0.5 it is listed as doubtful. */
  readonly confidence: number
  /** How many rest positions this mark is thought to hold (from its width); 1 as a rule. */
  readonly multiplicity: number
}

/** Something that looked like a mark and is none, px. */
export interface Refusal {
  readonly p0: Point
  readonly p1: Point
  readonly why: string
}

/** What the caller already knows or can do for the detection. */
export interface DetectPorts {
  /** A printed sheet that was looked for beforehand (and its code read); null when there is none. Left out: looked for here. */
  readonly sheet?: SheetFix | null
}

/** What a printed sheet's code said; only what was in it. */
export interface SheetSetup {
  readonly sheetVersion: number
  readonly motor: string | null
  readonly stepsPerRev: number | null
  readonly microsteps: number | null
  readonly rig: 'pointer' | 'mirror'
  /** Pointer: pointer length; mirror: wall distance; mm. */
  readonly lengthMm: number | null
}

export interface Detection {
  readonly kind: 'detection'
  readonly rig: 'pointer' | 'mirror'
  readonly widthPx: number
  readonly heightPx: number
  /** Shaft centre in the upright photo; null on a strip. */
  readonly centrePx: Point | null
  /** Covariance of the centre, px²: [xx, xy, yy]; null on a strip. */
  readonly centreCovariancePx: readonly [number, number, number] | null
  /** Standard uncertainty that the centre's doubt adds to an angle, rms over the marks (common to neighbours), deg. */
  readonly centreUDeg: number | null
  readonly rectifiedBy: RectifiedBy
  /** Standard uncertainty left in an angle by what rectification could not remove, deg (strip: relative scale error × position). */
  readonly rectificationUDeg: number | null
  readonly pixelsPerMm: number | null
  /** The paper's corners, where the perspective was told by them, clockwise as seen; they may lie beyond the picture's edges. */
  readonly cornersPx: readonly Point[] | null
  /** Reference targets of a printed sheet; `used` false: left aside because it did not agree with the others. */
  readonly targets?: readonly { readonly px: Point; readonly used: boolean }[]
  /** Size the paper was taken to have, mm, when the perspective was told from it and nobody said it. */
  readonly paperTakenMm?: readonly [width: number, height: number]
  /** The map from photo to paper in which the angles were taken, so that a mark moved by hand gets its angle the same way. */
  readonly plane?: PlaneMap | null
  /** Sorted by angle or position. */
  readonly marks: readonly DetectedMark[]
  /** Mark-like things that were looked at and refused, for the overlay. */
  readonly refused: readonly Refusal[]
  readonly sheet: SheetSetup | null
  /** Strip, in words: where positions begin and which way they grow, and what the scale was taken from (null: not known). */
  readonly strip?: { readonly zero: string; readonly scale: string | null }
  /** Sentences about what is doubtful, each with what to do. */
  readonly doubts: readonly string[]
}
