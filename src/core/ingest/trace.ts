import type { PositionUnit } from '#core/quantity/position-unit'

/** A length or angle with its standard uncertainty in the same unit; u = 0 when it was not stated. */
export interface Stated {
  readonly value: number
  readonly u: number
}

/** Motor, as commanded. */
export interface Motor {
  readonly name: string
  /** S, full steps per shaft revolution. */
  readonly stepsPerRev: number
  /** N, commanded microsteps per full step. */
  readonly microsteps: number
}

/** How marks became positions. Lengths in mm. */
export type Rig =
  | {
      readonly kind: 'pointer'
      /** Only to turn a mark's uncertainty in mm into an angle; null when not said. */
      readonly radiusMm: Stated | null
    }
  | { readonly kind: 'arc'; readonly radiusMm: Stated }
  | { readonly kind: 'chord'; readonly radiusMm: Stated }
  | {
      readonly kind: 'mirror'
      readonly distanceMm: Stated
      /** Where the perpendicular from the mirror meets the wall, in the marks' own coordinate; null when unknown. */
      readonly footMm: Stated | null
      /** Beam angle per shaft angle: 2 for a mirror, 1 for a source or lens on the shaft. */
      readonly ratio: 1 | 2
    }

/** One gear stage between motor and pointer, as tooth counts. */
export interface GearStage {
  readonly drivenTeeth: number
  readonly drivingTeeth: number
}

export interface TraceMark {
  /** Line of the file (1 = first) or number of the mark in a photo (from 1). */
  readonly line: number
  /** As typed, in the trace's unit. */
  readonly position: number
  readonly command: number | null
  readonly tally: number | null
  readonly pass: number
  readonly direction: 1 | -1 | null
  readonly note: string
  /** Standard uncertainty of this mark alone, in the trace's unit; null when not stated for it. */
  readonly u: number | null
  /** How many rest positions the mark is thought to hold (photo); 1 as a rule. */
  readonly multiplicity: number
}

/** A part of a mark's uncertainty that somebody told apart from the others. */
export interface MarkPart {
  /** `line width`: the whole width of the line; the others: a standard uncertainty. */
  readonly source: 'line width' | 'parallax' | 'hand'
  readonly value: number
  readonly unit: PositionUnit
}

/** Marks as read, with the set-up they were made under. */
export interface Trace {
  readonly kind: 'trace'
  readonly motor: Motor
  readonly rig: Rig
  readonly unit: PositionUnit
  readonly gears: readonly GearStage[]
  /** Standard uncertainty of one mark; null when nobody said. */
  readonly markUncertainty: { readonly value: number; readonly unit: PositionUnit } | null
  /** Parts told apart; they count in place of `markUncertainty`. */
  readonly markParts?: readonly MarkPart[]
  /** Size of the last digit typed, in `unit`; 0 for a photo. */
  readonly lastDigit: number
  /** K when stated, else null. */
  readonly commands: number | null
  /** A command index that is a full-step position; null when unknown. */
  readonly fullStepCommand: number | null
  readonly marks: readonly TraceMark[]
  /** Standard uncertainties common to the whole trace that a photo brings along, deg at the mark; empty for typed ones. */
  readonly common: readonly { readonly source: string; readonly uDeg: number }[]
  /** False for a photo: its marks have no order of their own and are read around the dial. */
  readonly ordered: boolean
  readonly warnings: readonly string[]
}
