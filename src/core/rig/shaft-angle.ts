import { degreesFromRadians } from '#core/quantity/angle'
import { sizeOf } from '#core/quantity/position-unit'
import type { GearStage, Rig, Trace } from '#core/ingest/trace'
import { rectangular } from './type-b.ts'

/** Motor turns per pointer turn: the product of driven over driving teeth. */
export const gearRatio = (gears: readonly GearStage[]): number =>
  gears.reduce((ratio, { drivenTeeth, drivingTeeth }) => (ratio * drivenTeeth) / drivingTeeth, 1)

/** Rig lengths with the unknown foot of a mirror trace filled in. */
export type KnownRig = Exclude<Rig, { kind: 'mirror' }> | (Rig & { kind: 'mirror'; footMm: NonNullable<(Rig & { kind: 'mirror' })['footMm']> })

/**
 * The foot of the perpendicular lies somewhere within the trace when nobody measured it: the middle, with the
 * standard uncertainty of a rectangle as wide as the trace (half-width/√3, JCGM 100, 4.3.7).
 */
export const withFoot = (rig: Rig, positionsMm: readonly number[]): KnownRig => {
  if (rig.kind !== 'mirror') return rig
  if (rig.footMm) return { ...rig, footMm: rig.footMm }
  const low = positionsMm.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
  const high = positionsMm.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY)
  return { ...rig, footMm: { value: (low + high) / 2, u: rectangular((high - low) / 2) } }
}

/**
 * One position on the paper or wall → angle, deg, before gears.
 * Pointer: the angle itself. Arc: s/R. Chord: 2·asin(c/2R), the turn since the mark before. Mirror: atan(x/D)/ratio.
 * @param position deg for a pointer, mm otherwise
 * @returns NaN for a chord longer than the circle is wide
 */
export const angleAt = (rig: KnownRig, position: number): number => {
  switch (rig.kind) {
    case 'pointer':
      return position
    case 'arc':
      return degreesFromRadians(position / rig.radiusMm.value)
    case 'chord':
      return degreesFromRadians(2 * Math.asin(position / (2 * rig.radiusMm.value)))
    case 'mirror':
      return degreesFromRadians(Math.atan((position - rig.footMm.value) / rig.distanceMm.value)) / rig.ratio
  }
}

/** Change of the angle per unit of position (deg per deg, or deg per mm). */
export const slopeAt = (rig: KnownRig, position: number): number => {
  const step = 1e-4
  return (angleAt(rig, position + step) - angleAt(rig, position - step)) / (2 * step)
}

/** Positions in the rig's own unit: deg for a pointer, mm otherwise. */
export const positionsOf = (trace: Trace): number[] => trace.marks.map((mark) => mark.position * sizeOf(trace.unit))
