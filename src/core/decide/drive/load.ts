/** What the carriage asks for. For a rotary output read deg for mm and N·m for N. */
export interface Load {
  /** Moving mass, kg; ignored for a rotary output (give the output an inertia). */
  readonly massKg: number
  /** Steady force against the motion, N (friction, cutting), without gravity. */
  readonly force: number
  /** Rise of the travel against the horizontal, deg: 0 lying, 90 upright. */
  readonly tiltDeg: number
  /** Acceleration, mm/s². */
  readonly acceleration: number
  /** Wanted speed, mm/s. */
  readonly speed: number
}

const standardGravity = 9.80665

export const idleLoad: Load = { massKg: 0, force: 0, tiltDeg: 0, acceleration: 0, speed: 0 }

/** Steady force at the carriage, N: stated force plus the weight along the travel (standard gravity 9.80665 m/s²). */
export const steadyForce = ({ massKg, force, tiltDeg }: Load): number =>
  force + massKg * standardGravity * Math.sin((tiltDeg * Math.PI) / 180)
