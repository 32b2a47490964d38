import { type DriveTrain, ratioOf, travelPerTurn } from './drive-train.ts'

/** One contribution to the inertia that the motor turns, kg·m² at its shaft. */
export interface InertiaPart {
  readonly source: string
  readonly kgM2: number
}

/**
 * Inertia of everything behind the motor, seen at its shaft: each part's own divided by (motor turns per turn of it)², and a
 * mass moved in a line as m·(travel per radian)² of its shaft. Parts of zero are left out.
 */
export const inertiaOf = ({ reductions, output }: DriveTrain, massKg: number): readonly InertiaPart[] => {
  const whole = ratioOf(reductions)
  const stages = reductions.map((stage, index) => ({
    source: `${stage.kind} ${stage.drivenTeeth}:${stage.drivingTeeth}`,
    kgM2: stage.inertiaKgM2 / ratioOf(reductions.slice(0, index + 1)) ** 2,
  }))
  const metresPerRadian = output.kind === 'rotary' ? 0 : travelPerTurn(output) / 1000 / (2 * Math.PI)
  return [
    ...stages,
    { source: output.kind, kgM2: output.inertiaKgM2 / whole ** 2 },
    { source: 'moving mass', kgM2: massKg * (metresPerRadian / whole) ** 2 },
  ].filter(({ kgM2 }) => kgM2 > 0)
}
