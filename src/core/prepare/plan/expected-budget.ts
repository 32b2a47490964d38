import { beamHalfAngle } from './mark-spacing.ts'
import { type PlannedRig, type PlanSetup, spanDeg } from './plan-setup.ts'

export interface Contribution {
  readonly source: string
  /** Standard uncertainty, deg at the motor's shaft. */
  readonly uDeg: number
  /** Independent from mark to mark (counts in an increment), or smooth over the trace (does not). */
  readonly kind: 'mark by mark' | 'smooth'
}

const deg = 180 / Math.PI
const rad = Math.PI / 180

/** Share of a spot's diameter to which its middle is judged by eye (common practice, no source). */
const spotShare = 0.1

/** What an arc of half span h (rad) leaves of a once-per-turn error when its mean is taken out: √(1 − (sin h/h)²), rms over directions. */
const arcSpread = (h: number): number => (h === 0 ? 0 : Math.sqrt(1 - (Math.sin(h) / h) ** 2))

const pointerParts = (rig: Extract<PlannedRig, { kind: 'pointer' }>, setup: PlanSetup): readonly Contribution[] => {
  const wholeTurn = spanDeg(setup) >= 360
  const half = (spanDeg(setup) / 2) * rad
  return [
    { source: 'placing and reading the mark', uDeg: (setup.markUMm / rig.lengthMm) * deg, kind: 'mark by mark' },
    ...(wholeTurn
      ? []
      : [
          {
            source: 'pivot off centre',
            uDeg: (rig.pivotUMm / rig.lengthMm) * deg * arcSpread(half),
            kind: 'smooth',
          } as const,
        ]),
  ]
}

/** Mean of cos⁴ b over |b| ≤ end (rad): what a millimetre on the wall is worth falls off as cos². */
const meanCos4 = (end: number): number =>
  end === 0 ? 1 : 3 / 8 + Math.sin(2 * end) / (4 * end) + Math.sin(4 * end) / (32 * end)

/** Rms of ½·sin 2b over |b| ≤ end: how an error of the distance goes into the angle. */
const rmsHalfSin2 = (end: number): number =>
  end === 0 ? 0 : Math.sqrt(Math.max(0, (1 - Math.sin(4 * end) / (4 * end)) / 8))

/** Standard deviation of cos² b over |b| ≤ end: what is left of a shifted foot once the trace's own offset is taken out. */
const spreadCos2 = (end: number): number =>
  end === 0 ? 0 : Math.sqrt(Math.max(0, 1 / 8 + Math.sin(4 * end) / (32 * end) - (Math.sin(2 * end) / (4 * end)) ** 2))

const mirrorParts = (rig: Extract<PlannedRig, { kind: 'mirror' }>, setup: PlanSetup): readonly Contribution[] => {
  const end = beamHalfAngle(setup) * rad
  const perMm = deg / (rig.ratio * rig.distanceMm)
  const worth = perMm * Math.sqrt(meanCos4(end))
  return [
    { source: 'placing and reading the mark', uDeg: setup.markUMm * worth, kind: 'mark by mark' },
    { source: 'judging the middle of the spot', uDeg: rig.spotMm * spotShare * worth, kind: 'mark by mark' },
    { source: 'wall distance', uDeg: rig.distanceUMm * perMm * rmsHalfSin2(end), kind: 'smooth' },
    { source: 'foot of the perpendicular', uDeg: rig.footUMm * perMm * spreadCos2(end), kind: 'smooth' },
  ]
}

/**
 * What each part of the rig is expected to add to a mark's angle, deg at the motor's shaft. Pointer: mark/R; an off-centre pivot e
 * gives e/R once per turn, fitted and removed over a whole turn; on a shorter arc what its mean leaves counts. Wall:
 * θ = atan(x/D)/r, so 1 mm is worth cos²(beam)/(r·D); the distance and the foot act smoothly along the strip.
 */
export const expectedBudget = (setup: PlanSetup): readonly Contribution[] => {
  const { rig, gearRatio } = setup
  const parts = rig.kind === 'pointer' ? pointerParts(rig, setup) : mirrorParts(rig, setup)
  return parts.map((part) => ({ ...part, uDeg: part.uDeg * gearRatio })).filter(({ uDeg }) => uDeg > 0)
}

const rootSum = (parts: readonly Contribution[]): number => Math.hypot(...parts.map(({ uDeg }) => uDeg))

/** Standard uncertainty of one mark from everything, deg at the shaft. */
export const markU = (parts: readonly Contribution[]): number => rootSum(parts)

/** Expanded uncertainty of an increment, 2·√2·u over what is independent from mark to mark, deg at the shaft. */
export const incrementU = (parts: readonly Contribution[]): number =>
  2 * Math.SQRT2 * rootSum(parts.filter(({ kind }) => kind === 'mark by mark'))
