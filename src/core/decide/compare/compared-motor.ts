import type { ModeVerdict } from '#core/decide/mode-verdict'

/** One result among those compared: a motor, or the same motor with another current or driver. Angles deg at the shaft. */
export interface ComparedMotor {
  /** What tells it from the others. */
  readonly label: string
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly effective: { readonly value: number; readonly low: number; readonly high: number }
  readonly modes: readonly Pick<ModeVerdict, 'microsteps' | 'verdict'>[]
  /** Mean reversal and its standard uncertainty; null with one direction. */
  readonly reversal: { readonly deg: number; readonly uDeg: number } | null
  /** Position errors of commands after the start mark, with the standard uncertainty of each. */
  readonly errors: readonly { readonly command: number; readonly errorDeg: number; readonly uDeg: number }[]
}

/** Effective positions per turn, S·N_eff: what motors with different full steps can be ranked by. */
export const positionsPerTurn = ({ stepsPerRev, effective }: ComparedMotor): ComparedMotor['effective'] => ({
  value: stepsPerRev * effective.value,
  low: stepsPerRev * effective.low,
  high: stepsPerRev * effective.high,
})

/** The highest mode that holds; null when none does. */
export const bestMode = ({ modes }: ComparedMotor): number | null => modes.findLast(({ verdict }) => verdict === 'holds')?.microsteps ?? null
