import type { DriveFigures, ModeFigures } from './drive-figures.ts'

/** The parts of a result document that a drive train needs; angles deg at the shaft. */
export interface MeasuredDocument {
  readonly motor: { readonly stepsPerRev: number; readonly microsteps: number }
  readonly rests: readonly { readonly command: number; readonly errorDeg: number | null; readonly incrementMicrosteps: number | null }[]
  readonly figures: { readonly effectiveMicrosteps: { readonly value: number | null; readonly low: number | null; readonly high: number | null } | null }
  readonly modes: readonly { readonly microsteps: number; readonly verdict: NonNullable<ModeFigures['verdict']>; readonly worstIncrement: readonly (number | null)[] | null }[]
  readonly directions: { readonly reversalDeg: number | null } | null
  readonly uncertainty: { readonly markDeg: number | null } | null
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

/** Effective count of every (N/n)-th rest: n/√(1 + 12σ²/δ²) with σ² = max(0, mean e² − u²); null below four rests. */
const effectiveOf = (errors: readonly number[], [mode, stepDeg, u]: readonly [number, number, number]): number | null => {
  if (errors.length < 4) return null
  const centre = mean(errors)
  const variance = Math.max(0, mean(errors.map((error) => (error - centre) ** 2)) - u * u)
  return mode / Math.sqrt(1 + (12 * variance) / (stepDeg / mode) ** 2)
}

/**
 * Figures per mode from a result document: the count and interval as printed for N itself, the same formula over every
 * (N/n)-th rest for a coarser mode n (start mark left out), and the largest of the worst increments.
 */
export const figuresOfRests = (document: MeasuredDocument): DriveFigures => {
  const { stepsPerRev, microsteps } = document.motor
  const u = document.uncertainty?.markDeg ?? 0
  const stepDeg = 360 / stepsPerRev
  const effectiveFor = (mode: number): ModeFigures['effective'] => {
    const own = document.figures.effectiveMicrosteps
    if (mode === microsteps) return typeof own?.value === 'number' ? { value: own.value, low: own.low ?? own.value, high: own.high ?? own.value } : null
    const picked = document.rests.filter(({ command, errorDeg }) => command > 0 && command % (microsteps / mode) === 0 && errorDeg !== null)
    const value = effectiveOf(picked.map(({ errorDeg }) => errorDeg ?? 0), [mode, stepDeg, u])
    return value === null ? null : { value, low: value, high: value }
  }
  const modes = document.modes.map(({ microsteps: mode, verdict, worstIncrement }) => {
    const known = (worstIncrement ?? []).filter((value): value is number => value !== null)
    return { microsteps: mode, verdict, effective: effectiveFor(mode), largestIncrement: known.length > 0 ? Math.max(...known) : null }
  })
  return { modes, reversalDeg: document.directions?.reversalDeg ?? null, markUDeg: document.uncertainty?.markDeg ?? null }
}
