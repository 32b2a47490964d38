/** What every stage may lose. */
export interface Losses {
  /** Play, deg at the driven shaft of a reduction, mm (rotary: deg) at an output; 0 when not stated. */
  readonly backlash: number
  /** Power out over power in, 0 < efficiency ≤ 1; 1 when not stated. */
  readonly efficiency: number
  /** Inertia of what turns with the driven side of a reduction, or with an output's shaft, kg·m². */
  readonly inertiaKgM2: number
}

/** One stage that turns a shaft by a shaft: gear pair, belt over two pulleys, or worm (driving teeth = starts). */
export interface Reduction extends Losses {
  readonly kind: 'gear' | 'pulleys' | 'worm'
  readonly drivenTeeth: number
  readonly drivingTeeth: number
}

/** The last stage. Lengths in mm; pitch is per tooth or thread. */
export type Output =
  | (Losses & { readonly kind: 'drum'; readonly circumferenceMm: number })
  | (Losses & { readonly kind: 'belt' | 'rack'; readonly teeth: number; readonly pitchMm: number })
  | (Losses & { readonly kind: 'screw'; readonly pitchMm: number; readonly starts: number })
  | (Losses & { readonly kind: 'rotary' })

/** From the motor's shaft to the carriage, motor side first. */
export interface DriveTrain {
  readonly name: string
  readonly reductions: readonly Reduction[]
  readonly output: Output
}

/** Motor as commanded: S full steps per revolution, N microsteps per full step. */
export interface DrivenMotor {
  readonly stepsPerRev: number
  readonly microsteps: number
}

export const lossless: Losses = { backlash: 0, efficiency: 1, inertiaKgM2: 0 }

/** Motor turns per turn of the output shaft; 1 without reductions. */
export const ratioOf = (reductions: readonly Reduction[]): number =>
  reductions.reduce((ratio, { drivenTeeth, drivingTeeth }) => (ratio * drivenTeeth) / drivingTeeth, 1)

/** Carriage travel per turn of the output's shaft: mm, or 360 deg for a rotary output. */
export const travelPerTurn = (output: Output): number => {
  switch (output.kind) {
    case 'drum':
      return output.circumferenceMm
    case 'belt':
    case 'rack':
      return output.teeth * output.pitchMm
    case 'screw':
      return output.pitchMm * output.starts
    case 'rotary':
      return 360
  }
}

/** Unit of the carriage's travel. */
export const travelUnit = (output: Output): 'mm' | 'deg' => (output.kind === 'rotary' ? 'deg' : 'mm')
