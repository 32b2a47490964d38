import type { MarkPart, Stated, Trace, TraceMark } from '#core/ingest/trace'
import { extremes, mean, rms } from '#core/numeric/moments'
import { isAngleUnit, sizeOf } from '#core/quantity/position-unit'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Contribution } from './budget.ts'
import { isShared, noteOfPart, sizeOfPart } from './mark-parts.ts'
import { offCentreOf } from './off-centre.ts'
import { readingStep } from './reading-step.ts'
import { resolution } from './type-b.ts'
import { angleAt, gearRatio, type KnownRig, positionsOf, slopeAt, withFoot } from './shaft-angle.ts'
import { noteOfShared } from './shared-notes.ts'
import { type SlowErrors, slowErrorsOf } from './slow-errors.ts'

/** A mark as an angle of the motor shaft. */
export interface LocatedMark extends Pick<TraceMark, 'line' | 'command' | 'tally' | 'pass' | 'direction' | 'multiplicity'> {
  /** Which of the marks of the file or photo it is, from 1; where left out, `line` says so. */
  readonly number?: number
  /** deg at the shaft; on a dial only its value modulo one turn is known. */
  readonly angleDeg: number
  /** Standard uncertainty of this mark alone, deg at the shaft; null when nobody stated it. */
  readonly uDeg: number | null
}

/** A part of the marks' own uncertainty that was told apart. */
export type LocatedPart = Pick<Contribution, 'source' | 'uDeg' | 'note'>

export interface Located {
  readonly marks: readonly LocatedMark[]
  /** What makes up the marks' own uncertainty where it was told apart; else empty. */
  readonly parts: readonly LocatedPart[]
  /** Parts shared by all marks. */
  readonly common: readonly Contribution[]
  /** Those of them that a trace of some cycles can itself show, as lengths; none for a photo of a dial. */
  readonly slow: SlowErrors
  /** One turn of the pointer in deg at the shaft, for rigs that go round; null for arc, chord and mirror. */
  readonly turnDeg: number | null
  /** Standard uncertainty of the last digit typed, deg at the shaft; 0 for a photo. */
  readonly readingUDeg: number
  readonly warnings: readonly string[]
}

/** What was stated of every mark, in the rig's unit (deg or mm) → deg before gears; null when nothing was. */
const statedU = (trace: Trace, rig: KnownRig, position: number): number | null => {
  const own = (trace.markParts ?? []).filter((part) => !isShared(part)).map((part) => atShaft({ value: sizeOfPart(part), unit: part.unit }, rig, position))
  if (own.length > 0) return own.some((u) => u === null) ? null : Math.hypot(...own.map((u) => u ?? 0))
  return trace.markUncertainty && atShaft(trace.markUncertainty, rig, position)
}

/** A size at the mark → deg before gears; null for millimetres at a pointer of unknown radius. */
const atShaft = (stated: Pick<MarkPart, 'value' | 'unit'>, rig: KnownRig, position: number): number | null => {
  const slope = Math.abs(slopeAt(rig, position))
  if (isAngleUnit(stated.unit)) return stated.value * sizeOf(stated.unit)
  if (rig.kind !== 'pointer') return stated.value * sizeOf(stated.unit) * slope
  return rig.radiusMm ? ((stated.value * sizeOf(stated.unit)) / rig.radiusMm.value) * (180 / Math.PI) : null
}

/**
 * The mark's own uncertainty, deg before gears. A row's own value replaces what is stated of all marks; in a photo it says how
 * well the stroke is seen, and what is stated of the marks, how well they were placed, comes on top.
 */
const markU = (trace: Trace, rig: KnownRig, mark: TraceMark, position: number): number | null => {
  const placed = statedU(trace, rig, position)
  if (mark.u === null) return placed
  const seen = mark.u * sizeOf(trace.unit) * Math.abs(slopeAt(rig, position))
  return trace.ordered ? seen : Math.hypot(seen, placed ?? 0)
}

/** Angles of all positions; chords add up from mark to mark. */
const anglesOf = (rig: KnownRig, positions: readonly number[]): number[] => {
  const angles = positions.map((position) => angleAt(rig, position))
  if (rig.kind !== 'chord') return angles
  let total = 0
  return angles.map((angle) => (total += angle))
}

/** Spread that moving a rig length puts into the angles, over the ways it may lie; a shift common to all does not count. */
const effectOf = (source: string, [rig, ...moved]: readonly [KnownRig, ...KnownRig[]], positions: readonly number[], note: string): Contribution => {
  const before = anglesOf(rig, positions)
  const spreads = moved.map((each) => {
    const change = anglesOf(each, positions).map((angle, i) => angle - (before[i] ?? 0))
    const common = mean(change)
    return rms(change.map((value) => value - common))
  })
  return { source, uDeg: rms(spreads), kind: 'common', degreesOfFreedom: null, note }
}

/** A length one standard uncertainty either way, which is all that counts where angles follow it nearly in proportion. */
const eitherWay = ({ value, u }: Stated): Stated[] => [-u, u].map((change) => ({ value: value + change, u }))

/** Nine places over a rectangle: from its middle the angles do not follow in proportion. */
const allOver = ({ value, u }: Stated): Stated[] => [-4, -3, -2, -1, 0, 1, 2, 3, 4].map((ninth) => ({ value: value + (ninth / 4.5) * Math.sqrt(3) * u, u }))

const lengthNote = ({ value, u }: Stated): string => `${value} mm known to ±${Number(u.toPrecision(2))} mm (standard uncertainty)`

/** A pivot off the centre of the paper, where a radius says what that is worth and less than a turn was marked. */
const offCentre = (trace: Trace, rig: KnownRig, angles: readonly number[]): Contribution[] => {
  if (!trace.ordered || rig.kind === 'mirror' || !rig.radiusMm) return []
  const [low, high] = extremes(angles)
  return rig.kind === 'pointer' && high - low > 300 ? [] : [offCentreOf(angles, rig.radiusMm.value)]
}

const commonOf = (rig: KnownRig, positions: readonly number[], footStated: boolean): Contribution[] => {
  if (rig.kind === 'pointer') return []
  if (rig.kind === 'mirror') {
    const feet = footStated ? eitherWay(rig.footMm) : allOver(rig.footMm)
    const footNote = footStated ? lengthNote(rig.footMm) : 'not measured: taken to lie anywhere within the trace (rectangular)'
    return [
      effectOf('wall distance', [rig, ...eitherWay(rig.distanceMm).map((distanceMm) => ({ ...rig, distanceMm }))], positions, lengthNote(rig.distanceMm)),
      effectOf('foot of the perpendicular', [rig, ...feet.map((footMm) => ({ ...rig, footMm }))], positions, footNote),
    ]
  }
  return [effectOf('radius', [rig, ...eitherWay(rig.radiusMm).map((radiusMm) => ({ ...rig, radiusMm }))], positions, lengthNote(rig.radiusMm))]
}

/** Parts of a mark's uncertainty told apart, rms over the marks. */
const partsOf = (trace: Trace, rig: KnownRig, positions: readonly number[], gear: number): Contribution[] =>
  (trace.markParts ?? []).flatMap((part) => {
    const sizes = positions.map((position) => atShaft({ value: sizeOfPart(part), unit: part.unit }, rig, position))
    if (sizes.some((u) => u === null)) return []
    return [{ source: part.source, uDeg: rms(sizes.map((u) => u ?? 0)) * gear, kind: isShared(part) ? 'common' : 'mark', degreesOfFreedom: null, note: noteOfPart(part) } as const]
  })

/** Below this share of a mark's own uncertainty the readings of chords are not worth a row. */
const negligible = 0.1

/** Each chord is read for itself, so that its reading errors add up along the trace: about its mean n of them wander by √(n/6). */
const chordReadings = (rig: KnownRig, marks: readonly LocatedMark[], readingDeg: number): Contribution[] => {
  const uDeg = readingDeg * Math.sqrt(marks.length / 6)
  const counts = rig.kind === 'chord' && uDeg > negligible * rms(marks.map(({ uDeg: own }) => own ?? 0))
  return counts ? [{ source: 'readings of the chords', uDeg, kind: 'common', degreesOfFreedom: null, note: `each read to ${readingDeg.toPrecision(2)}°, added up over ${marks.length - 1} chords` }] : []
}

/** Over a whole turn the pivot shows as a wave of its own, and in a photo the dial has been measured. */
const slowOf = (trace: Trace, rig: KnownRig, angles: readonly number[]): SlowErrors => {
  const [low, high] = extremes(angles)
  const seen = rig.kind === 'pointer' && (!trace.ordered || high - low > 300)
  return slowErrorsOf(seen ? { kind: 'pointer', radiusMm: null } : rig, gearRatio(trace.gears))
}

const fewestChords = 6

/** Lengths that grow from row to row, as chords from the mark before never do: taken from the first mark, or added up. */
const areFromTheFirst = (rig: KnownRig, positions: readonly number[]): boolean => {
  const growing = positions.slice(1).filter((position, i) => position > (positions[i] ?? 0)).length
  const last = positions.length - 1
  return rig.kind === 'chord' && last >= fewestChords && growing >= 0.9 * last && (positions[last] ?? 0) > 3 * (positions[1] ?? 0)
}

/** Marks on paper or wall → angles of the motor shaft, with what is common to all of them. */
export const locate = (trace: Trace): Located | Unmeasurable => {
  const positions = positionsOf(trace)
  const rig = withFoot(trace.rig, positions)
  if (areFromTheFirst(rig, positions)) return unmeasurable('the chords grow from row to row, as distances from the first mark do', 'the position column', 'type the distance of each mark from the one before it (0 for the first), or say "# rig: arc" for lengths along the arc')
  const angles = anglesOf(rig, positions)
  const bad = angles.findIndex((angle) => !Number.isFinite(angle))
  if (bad >= 0) return unmeasurable('the chord is longer than the circle is wide', `line ${trace.marks[bad]?.line}`, 'check the radius and the unit of the positions')
  const gear = gearRatio(trace.gears)
  const marks = trace.marks.map((mark, i): LocatedMark => {
    const u = markU(trace, rig, mark, positions[i] ?? 0)
    const { line, command, tally, pass, direction, multiplicity } = mark
    return { line, number: i + 1, command, tally, pass, direction, multiplicity, angleDeg: (angles[i] ?? 0) * gear, uDeg: u === null ? null : u * gear }
  })
  const step = trace.lastDigit * sizeOf(trace.unit)
  const reading = resolution(step === 0 ? 0 : readingStep(positions, step, rig.kind === 'pointer' ? 360 / trace.motor.stepsPerRev / trace.motor.microsteps / gear : undefined)) * Math.abs(slopeAt(rig, positions[0] ?? 0)) * gear
  const brought = trace.common.map(({ source, uDeg }): Contribution => ({ source, uDeg: uDeg * gear, kind: 'common', degreesOfFreedom: null, note: noteOfShared(source) }))
  const told = partsOf(trace, rig, positions, gear)
  const common = [...told.filter(({ kind }) => kind === 'common'), ...chordReadings(rig, marks, reading), ...[...commonOf(rig, positions, trace.rig.kind !== 'mirror' || trace.rig.footMm !== null), ...offCentre(trace, rig, angles)].map((part) => ({ ...part, uDeg: part.uDeg * gear })), ...brought].filter(({ uDeg }) => uDeg > 0)
  const both = (trace.markParts ?? []).some((part) => !isShared(part)) && trace.markUncertainty ? ['Line width or hand are given, so mark-uncertainty was left out: they make up the uncertainty of a mark.'] : []
  const warnings = trace.rig.kind === 'mirror' && !trace.rig.footMm ? [...both, 'The foot of the perpendicular is not known; it was taken to lie within the trace, and what that leaves open is in the uncertainty. Measure it (where the spot falls when the beam meets the wall squarely) and give it as foot.'] : both
  return { marks, parts: told.filter(({ kind }) => kind === 'mark'), common, slow: slowOf(trace, rig, angles), turnDeg: rig.kind === 'pointer' ? 360 * gear : null, readingUDeg: reading, warnings }
}
