import type { Shape } from './shape.ts'
import { arcStepMm, type Box, type Zone } from '#core/detect/sheet/zone'

/** Width and grey of the faint arcs and of the ring that numbers are written beside. */
export const arcStroke = { width: 0.12, tone: 0.78 } as const
export const numberRingStroke = { width: 0.2, tone: 0.55 } as const

const stepDeg = 0.25

/** Runs of directions, deg counter-clockwise, in which the circle of this radius about the origin lies inside the box. */
export const arcRuns = (radius: number, box: Box): readonly (readonly [fromDeg: number, toDeg: number])[] => {
  const inside = (deg: number): boolean => {
    const x = radius * Math.cos((deg * Math.PI) / 180)
    const y = -radius * Math.sin((deg * Math.PI) / 180)
    return x >= box.left && x <= box.right && y >= box.top && y <= box.bottom
  }
  const steps = Math.round(360 / stepDeg)
  const first = Array.from({ length: steps }, (_, step) => step).find((step) => !inside(step * stepDeg))
  if (first === undefined) return [[0, 360]]
  const runs: [number, number][] = []
  for (let step = first; step < first + steps; step++) {
    const deg = step * stepDeg
    const run = runs.at(-1)
    if (!inside(deg)) continue
    if (run && run[1] === deg - stepDeg) run[1] = deg
    else runs.push([deg, deg])
  }
  return runs.filter(([from, to]) => to > from)
}

/** Faint arcs inside the zone and its number ring, as far as they fall on this page. */
export const zoneArcs = (zone: Zone, cell: Box): readonly Shape[] => {
  if (zone.kind !== 'ring') return []
  const first = Math.ceil(zone.inner / arcStepMm)
  const count = Math.round(zone.numberRing / arcStepMm) - first + 1
  return Array.from({ length: count }, (_, index) => (first + index) * arcStepMm).flatMap((radius) =>
    arcRuns(radius, cell).map(([fromDeg, toDeg]): Shape => {
      const ring = radius === zone.numberRing
      const role = ring ? 'number-ring' : 'radius-arc'
      return { kind: 'arc', role, centre: [0, 0], radius, fromDeg, toDeg, ...(ring ? numberRingStroke : arcStroke) }
    }),
  )
}
