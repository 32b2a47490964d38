import { assumedOffCentreMm } from './off-centre.ts'
import type { KnownRig } from './shaft-angle.ts'
import { rectangular } from './type-b.ts'

/** A length of the rig that bends all angles slowly when it is wrong. */
export interface RigLength {
  readonly source: string
  /** As stated or assumed, mm. */
  readonly mm: number
  /** Standard uncertainty known beforehand, mm; 0 where it was stated without one. */
  readonly uMm: number
  /** A change by more than this is no slip of the ruler; something else is wrong. */
  readonly believableMm: number
}

/** A tenth of the length that turns millimetres into angles. */
const believable = 0.1

/** What could bend the angles of a rig, and how they read with those lengths changed. */
export interface SlowErrors {
  readonly lengths: readonly RigLength[]
  /** Shaft angle (deg, as located) read again with each length longer by so many mm. */
  readonly reread: (angleDeg: number, changesMm: readonly number[]) => number
}

/** Where a trace begins on the rig, and its sense of travel there. */
export interface TravelStart {
  /** Located angle of rest 0, deg. */
  readonly startDeg: number
  readonly sign: 1 | -1
}

/** Rests 0 … K, deg, travel positive, read again with each length longer by so many mm; rest 0 at 0. */
export const rereadRests = (anglesDeg: readonly number[], { reread }: SlowErrors, { startDeg, sign }: TravelStart, changesMm: readonly number[]): number[] => {
  const [first = 0] = anglesDeg
  const from = reread(startDeg, changesMm)
  return anglesDeg.map((angle) => sign * (reread(startDeg + sign * (angle - first), changesMm) - from))
}

const foot = 'foot of the perpendicular'

export const isFoot = ({ source }: RigLength): boolean => source === foot

const perDegree = Math.PI / 180

const ofMirror = ({ distanceMm, footMm, ratio }: KnownRig & { readonly kind: 'mirror' }, gear: number): SlowErrors => ({
  lengths: [
    { source: 'wall distance', mm: distanceMm.value, uMm: distanceMm.u, believableMm: believable * distanceMm.value },
    { source: foot, mm: footMm.value, uMm: footMm.u, believableMm: believable * distanceMm.value },
  ],
  reread: (angleDeg, [further = 0, along = 0]) => {
    const onWall = distanceMm.value * Math.tan((ratio * angleDeg * perDegree) / gear)
    return (Math.atan((onWall - along) / (distanceMm.value + further)) / perDegree / ratio) * gear
  },
})

/** Each coordinate of the pivot on the paper: along the zero of the angles and across it. */
const centre = (radiusMm: number): readonly RigLength[] =>
  [1, 2].map(() => ({ source: 'centre of the pivot', mm: 0, uMm: rectangular(assumedOffCentreMm), believableMm: believable * radiusMm }))

/** A mark at angle θ on the paper turns by (e/R)·sin(θ − φ) for a pivot e mm off towards φ. */
const offPivot = (angleDeg: number, radiusMm: number, [along = 0, across = 0]: readonly number[]): number =>
  (along * Math.sin(angleDeg * perDegree) - across * Math.cos(angleDeg * perDegree)) / radiusMm / perDegree

const ofPointer = (radiusMm: number, gear: number): SlowErrors => ({
  lengths: centre(radiusMm),
  reread: (angleDeg, changes) => angleDeg - gear * offPivot(angleDeg / gear, radiusMm, changes),
})

const ofArc = ({ value, u }: { readonly value: number; readonly u: number }, gear: number): SlowErrors => ({
  lengths: [{ source: 'radius', mm: value, uMm: u, believableMm: believable * value }, ...centre(value)],
  reread: (angleDeg, [longer = 0, ...pivot]) => angleDeg * (value / (value + longer)) - gear * offPivot(angleDeg / gear, value, pivot),
})

/**
 * The rig lengths whose error is slow beside a motor's own pattern. A pointer without a radius has none: what its pivot may
 * do is not known in mm.
 * @param gear motor turns per pointer turn
 */
export const slowErrorsOf = (rig: KnownRig, gear: number): SlowErrors => {
  if (rig.kind === 'mirror') return ofMirror(rig, gear)
  if (rig.kind === 'pointer') return rig.radiusMm ? ofPointer(rig.radiusMm.value, gear) : { lengths: [], reread: (angleDeg) => angleDeg }
  return ofArc(rig.radiusMm, gear)
}
