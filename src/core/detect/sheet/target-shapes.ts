import type { Place, Shape } from './shape.ts'
import { beadPlaces, beadsOf } from './target-code.ts'

/** Measures of a reference target, mm: a dark ring, a circle of beads within it, a dot in the middle. */
export const targetMm = {
  outer: 7,
  inner: 5.1,
  beadCircle: 3.4,
  beadRadius: 0.62,
  dotRadius: 1.1,
  /** Paper kept bare round the ring. */
  quiet: 1.5,
} as const

/** Middle of a bead place relative to the target's centre, mm, y down; places run counter-clockwise as seen from the right. */
export const beadOffset = (place: number): Place => {
  const angle = (2 * Math.PI * place) / beadPlaces
  return [targetMm.beadCircle * Math.cos(angle), -targetMm.beadCircle * Math.sin(angle)]
}

/** What is printed for one target. */
export const targetShapes = (identity: number, centre: Place): readonly Shape[] => {
  const beads = beadsOf(identity).flatMap((bead, place): Shape[] => {
    if (!bead) return []
    const [dx, dy] = beadOffset(place)
    return [
      { kind: 'disc', role: 'target', centre: [centre[0] + dx, centre[1] + dy], radius: targetMm.beadRadius, tone: 0 },
    ]
  })
  return [
    { kind: 'ring', role: 'target', centre, inner: targetMm.inner, outer: targetMm.outer, tone: 0 },
    { kind: 'disc', role: 'target', centre, radius: targetMm.dotRadius, tone: 0 },
    ...beads,
  ]
}
