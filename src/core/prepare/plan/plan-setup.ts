/** The rig to be built. Lengths in mm; u is a standard uncertainty. */
export type PlannedRig =
  | {
      readonly kind: 'pointer'
      readonly lengthMm: number
      /** How well the dial's centre is on the shaft, each coordinate. */
      readonly pivotUMm: number
    }
  | {
      readonly kind: 'mirror'
      readonly distanceMm: number
      readonly distanceUMm: number
      /** How well the foot of the perpendicular is known. */
      readonly footUMm: number
      /** Diameter of the light spot on the wall. */
      readonly spotMm: number
      /** Beam angle per shaft angle: 2 for a mirror, 1 for a light source on the shaft. */
      readonly ratio: 1 | 2
    }

/** What is to be tested and how. */
export interface PlanSetup {
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly rig: PlannedRig
  /** Motor turns per turn of the pointer or mirror; 1 when it sits on the motor's shaft. */
  readonly gearRatio: number
  /** Standard uncertainty of placing and reading one mark, mm. */
  readonly markUMm: number
  /** Width of the pen's line, mm. */
  readonly lineMm: number
  /** Full steps to be covered by one pass. */
  readonly fullSteps: number
  readonly passes: number
  readonly bothWays: boolean
  /** Time at each mark, s. */
  readonly dwellS: number
  /** Expected position error of the motor, rms, as a share of a full step. */
  readonly expectedErrorShare: number
  /** Wanted half width of the 95 % interval of the effective count; null when not asked. */
  readonly wantedHalfWidth: number | null
}

/** Commanded angle of one microstep at the pointer or mirror, deg. */
export const microstepDeg = ({
  stepsPerRev,
  microsteps,
  gearRatio,
}: Pick<PlanSetup, 'stepsPerRev' | 'microsteps' | 'gearRatio'>): number => 360 / stepsPerRev / microsteps / gearRatio

/** Angle at the pointer or mirror covered by one pass, deg. */
export const spanDeg = ({
  stepsPerRev,
  fullSteps,
  gearRatio,
}: Pick<PlanSetup, 'stepsPerRev' | 'fullSteps' | 'gearRatio'>): number => (360 / stepsPerRev / gearRatio) * fullSteps
