import chiSquaredQuantile from '@stdlib/stats-base-dists-chisquare-quantile'
import { dealtOut } from '#core/numeric/dealt-out'
import { mean, meanSquare, standardDeviation } from '#core/numeric/moments'
import type { Contribution } from '#core/rig/budget'
import { effectiveCount } from './effective-microsteps.ts'
import { twoDigits } from '#core/quantity/write-number'

export interface WanderOptions {
  readonly microsteps: number
  /** Standard uncertainty of one mark, deg. */
  readonly uDeg: number
  /** Chords add up, and with them their errors; elsewhere a dial off its centre or paper that creeps makes marks wander. */
  readonly chords: boolean
}

const fewestCycles = { chords: 3, others: 2 } as const
/** One chance in a hundred that marks which do not wander seem to. */
const beyondChance = 0.99

const cyclesOf = (errorsDeg: readonly number[], cycle: number): number[][] => {
  const cycles = Math.floor((errorsDeg.length - 1) / cycle)
  return Array.from({ length: cycles }, (_, c) => errorsDeg.slice(1 + c * cycle, 1 + (c + 1) * cycle))
}

/** Each cycle about its own mean, dealt out by phase. */
const byPhase = (rows: readonly (readonly number[])[], cycle: number): number[][] => {
  const level = rows.flatMap((row) => {
    const centre = mean(row)
    return row.map((error) => error - centre)
  })
  return dealtOut(level, cycle)
}

const parts = {
  chords: { source: 'wander of added chords', note: 'how far the means of whole electrical cycles stand apart: each chord adds its error to all later ones' },
  others: { source: 'wander from cycle to cycle', note: 'how far the means of whole electrical cycles stand apart' },
} as const

/**
 * Errors of the rig that come slowly make the trace wander, which neither marks nor a motor in step do: chords add up, a dial
 * stands off its centre, paper creeps. How far shows in the means of whole electrical cycles, which the motor's own pattern
 * leaves alike.
 * @param errorsDeg e_0 … e_K
 * @returns a part all marks share; none with too few cycles, or where the marks explain it
 */
export const cycleWander = (errorsDeg: readonly number[], { microsteps, uDeg, chords }: WanderOptions): Contribution[] => {
  const kind = chords ? 'chords' : 'others'
  const cycle = 4 * microsteps
  const rows = cyclesOf(errorsDeg, cycle)
  if (rows.length < fewestCycles[kind]) return []
  const own = Math.max(uDeg, Math.sqrt(meanSquare(byPhase(rows, cycle).map(standardDeviation))))
  const seen = standardDeviation(rows.map((row) => mean(row))) ** 2
  const ofMarks = (own * own) / cycle
  const spread = Math.sqrt(Math.max(0, seen - ofMarks))
  const chance = chords ? 0 : (ofMarks * chiSquaredQuantile(beyondChance, rows.length - 1)) / (rows.length - 1)
  return spread > uDeg / 4 && seen > chance ? [{ ...parts[kind], uDeg: spread, kind: 'common', degreesOfFreedom: rows.length - 1 }] : []
}

/** What to say of marks that wander; chords are known to. @param wholeTurn what a dial off its centre or a tilt do was taken off */
export const wanderSentence = ([wander]: readonly Contribution[], { chords, wholeTurn }: Pick<WanderOptions, 'chords'> & { readonly wholeTurn: boolean }): string[] => {
  if (!wander || chords) return []
  return wholeTurn
    ? [`From one electrical cycle to the next the marks wander by ${twoDigits(wander.uDeg)}°, which neither a motor in step with even teeth nor a dial off its centre does: paper or pointer crept or slipped and came back, or the dial is uneven or far off its centre. The interval of the effective count reaches up to what repeats in every cycle; fasten both and repeat the run.`]
    : [`From one electrical cycle to the next the marks wander by ${twoDigits(wander.uDeg)}°, which a motor in step with even teeth does not do: the dial or scale may stand off the shaft's centre, or paper or pointer crept. Over less than a turn that cannot be told and taken off; the interval of the effective count reaches up to what repeats in every cycle.`]
}

/**
 * N_eff of what repeats alone: each electrical cycle about its own mean, folded, with what its scatter leaves of it taken off and
 * two standard errors more. The most the motor can have been, had the wander made all the rest.
 */
export const countOfPattern = (errorsDeg: readonly number[], { microsteps, microstepDeg }: { readonly microsteps: number; readonly microstepDeg: number }): number => {
  const cycle = 4 * microsteps
  const rows = cyclesOf(errorsDeg, cycle)
  const phases = byPhase(rows, cycle)
  const scatter = meanSquare(phases.map(standardDeviation)) / rows.length
  const folded = meanSquare(phases.map(mean))
  // A walk within a cycle is little more than a slope and a bend: its scatter counts as two values, not one per command.
  const error = 2 * Math.sqrt((Math.max(folded - scatter, scatter) * scatter) / 2)
  return effectiveCount(microsteps, Math.max(0, folded - scatter - 2 * error), 0, microstepDeg)
}
