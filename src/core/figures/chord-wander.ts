import { dealtOut } from '#core/numeric/dealt-out'
import { mean, meanSquare, standardDeviation } from '#core/numeric/moments'
import type { Contribution } from '#core/rig/budget'
import { effectiveCount } from './effective-microsteps.ts'

export interface WanderOptions {
  readonly microsteps: number
  /** Standard uncertainty of one mark, deg. */
  readonly uDeg: number
}

/**
 * Chords add up, and with them their errors: the sum wanders, which neither marks nor a motor in step do. How far it did shows
 * in the means of whole electrical cycles, which the motor's own pattern leaves alike.
 * @param errorsDeg e_0 … e_K
 * @returns a part all marks share; none with less than three cycles, or where the marks explain it
 */
export const chordWander = (errorsDeg: readonly number[], { microsteps, uDeg }: WanderOptions): Contribution[] => {
  const cycle = 4 * microsteps
  const cycles = Math.floor((errorsDeg.length - 1) / cycle)
  if (cycles < 3) return []
  const means = Array.from({ length: cycles }, (_, c) => mean(errorsDeg.slice(1 + c * cycle, 1 + (c + 1) * cycle)))
  const spread = Math.sqrt(Math.max(0, standardDeviation(means) ** 2 - (uDeg * uDeg) / cycle))
  return spread > uDeg / 4 ? [{ source: 'wander of added chords', uDeg: spread, kind: 'common', degreesOfFreedom: cycles - 1, note: 'how far the means of whole electrical cycles stand apart: each chord adds its error to all later ones' }] : []
}

/**
 * N_eff of what repeats alone: each electrical cycle about its own mean, folded, with what its scatter leaves of it taken off and
 * two standard errors more. The most the motor can have been, had the wander made all the rest.
 */
export const countOfPattern = (errorsDeg: readonly number[], { microsteps, microstepDeg }: { readonly microsteps: number; readonly microstepDeg: number }): number => {
  const cycle = 4 * microsteps
  const cycles = Math.floor((errorsDeg.length - 1) / cycle)
  const rows = Array.from({ length: cycles }, (_, c) => errorsDeg.slice(1 + c * cycle, 1 + (c + 1) * cycle))
  const level = rows.flatMap((row) => {
    const centre = mean(row)
    return row.map((error) => error - centre)
  })
  const phases = dealtOut(level, cycle)
  const scatter = meanSquare(phases.map(standardDeviation)) / cycles
  const folded = meanSquare(phases.map(mean))
  // A walk within a cycle is little more than a slope and a bend: its scatter counts as two values, not one per command.
  const error = 2 * Math.sqrt((Math.max(folded - scatter, scatter) * scatter) / 2)
  return effectiveCount(microsteps, Math.max(0, folded - scatter - 2 * error), 0, microstepDeg)
}
