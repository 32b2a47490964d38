import { microstepDeg, type PlanSetup, spanDeg } from './plan-setup.ts'

/** Spacing of the marks of neighbouring commands on paper or wall, mm; they differ only on a flat wall. */
export interface MarkSpacing {
  readonly smallestMm: number
  readonly largestMm: number
  /** Smallest spacing that can still be read with this pen or spot. */
  readonly readableMm: number
}

const rad = Math.PI / 180
/** Paper that must show between two lines: about 1 arcmin at 300 mm, the acuity of a good eye (from memory). */
const gapMm = 0.1

/** Beam angle from the foot of the perpendicular to the end of the span, deg: the span is laid out evenly to both sides. */
export const beamHalfAngle = (setup: PlanSetup): number =>
  setup.rig.kind === 'mirror' ? (setup.rig.ratio * spanDeg(setup)) / 2 : 0

/** Smallest spacing two marks need to be seen as two: line width and a sliver of paper, or twice the mark's own uncertainty. */
export const readableSpacing = ({ rig, lineMm, markUMm }: Pick<PlanSetup, 'rig' | 'lineMm' | 'markUMm'>): number =>
  Math.max((rig.kind === 'mirror' ? Math.max(lineMm, rig.spotMm / 5) : lineMm) + gapMm, 2 * markUMm)

/**
 * Spacing of the marks: R·δ on a dial; on a wall D·(tan(b + r·δ) − tan b) with beam angle b from the foot of the perpendicular,
 * smallest there and largest at the ends of the span. Beam angles of 90° or more give Infinity.
 */
export const markSpacing = (setup: PlanSetup): MarkSpacing => {
  const step = microstepDeg(setup) * rad
  const readableMm = readableSpacing(setup)
  if (setup.rig.kind === 'pointer') {
    const spacing = setup.rig.lengthMm * step
    return { smallestMm: spacing, largestMm: spacing, readableMm }
  }
  const { distanceMm, ratio } = setup.rig
  const end = beamHalfAngle(setup) * rad
  const smallestMm = 2 * distanceMm * Math.tan((ratio * step) / 2)
  const largestMm =
    end < Math.PI / 2 ? distanceMm * (Math.tan(end) - Math.tan(end - ratio * step)) : Number.POSITIVE_INFINITY
  return { smallestMm, largestMm: Math.max(smallestMm, largestMm), readableMm }
}
