import type { Shape } from './shape.ts'

const armMm = 12

/** The shaft's place: a hairline cross and the circle to cut out round the shaft (diameter, mm; 0 leaves the circle out). */
export const shaftShapes = (holeMm: number): readonly Shape[] => {
  const hair = { role: 'shaft', width: 0.12, tone: 0.2 } as const
  const cross: readonly Shape[] = [
    { kind: 'line', from: [-armMm, 0], to: [armMm, 0], ...hair },
    { kind: 'line', from: [0, -armMm], to: [0, armMm], ...hair },
  ]
  if (holeMm <= 0) return cross
  return [...cross, { kind: 'arc', centre: [0, 0], radius: holeMm / 2, fromDeg: 0, toDeg: 360, ...hair }]
}
