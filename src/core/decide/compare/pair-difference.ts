import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import tCdf from '@stdlib/stats-base-dists-t-cdf'
import { mean, standardDeviation } from '#core/numeric/moments'
import { type ComparedMotor, positionsPerTurn } from './compared-motor.ts'

/** How two results differ in effective positions. */
export interface PairDifference {
  /** Ratio of their effective positions per turn, first over second. */
  readonly ratio: number
  /** 95 % interval of the ratio, from those of both; null where one of them is open. */
  readonly ratioInterval: readonly [low: number, high: number] | null
  /** Probability of a difference as large if there were none, two-sided, not corrected for several pairs. */
  readonly p: number
  /** Paired: same commands set against each other, electrical cycle by electrical cycle. */
  readonly method: 'paired by command' | 'from the intervals'
  /** Electrical cycles that could be paired; 0 when not paired. */
  readonly cycles: number
}

const fewestCycles = 4

/** Excess mean square error of the first over the second, marking taken off both, for each whole cycle they share. */
const cycleDifferences = (one: ComparedMotor, two: ComparedMotor): number[] => {
  if (one.stepsPerRev !== two.stepsPerRev || one.microsteps !== two.microsteps) return []
  const period = 4 * one.microsteps
  const there = new Map(two.errors.map((each) => [each.command, each.errorDeg ** 2 - each.uDeg ** 2]))
  const cycles = new Map<number, number[]>()
  for (const { command, errorDeg, uDeg } of one.errors) {
    const other = there.get(command)
    if (other === undefined) continue
    const cycle = Math.floor((command - 1) / period)
    cycles.set(cycle, [...(cycles.get(cycle) ?? []), errorDeg ** 2 - uDeg ** 2 - other])
  }
  return [...cycles.values()].filter((differences) => differences.length === period).map(mean)
}

const paired = (differences: readonly number[]): number => {
  const error = standardDeviation(differences) / Math.sqrt(differences.length)
  const centre = mean(differences)
  if (!(error > 1e-15)) return Math.abs(centre) > 1e-12 ? 0 : 1
  return 2 * tCdf(-Math.abs(centre) / error, differences.length - 1)
}

const halfWidths = 2 * 1.959964

/** Standard error of the logarithm of a count, from its 95 % interval. */
const logError = ({ low, high }: ComparedMotor['effective']): number => Math.log(Math.max(high, 1e-9) / Math.max(low, 1e-9)) / halfWidths

const unpaired = (one: ComparedMotor, two: ComparedMotor, ratio: number): number => {
  const error = Math.hypot(logError(one.effective), logError(two.effective))
  if (!(error > 1e-12)) return Math.abs(ratio - 1) > 1e-9 ? 0 : 1
  return 2 * normalCdf(-Math.abs(Math.log(ratio)) / error, 0, 1)
}

/** Distances to either end add up as logarithms in quadrature. */
const ratioInterval = ({ effective: one }: ComparedMotor, { effective: two }: ComparedMotor, ratio: number): PairDifference['ratioInterval'] => {
  const down = Math.hypot(Math.log(one.value / one.low), Math.log(two.high / two.value))
  const up = Math.hypot(Math.log(one.high / one.value), Math.log(two.value / two.low))
  return Number.isFinite(down) && Number.isFinite(up) ? [ratio * Math.exp(-down), ratio * Math.exp(up)] : null
}

/**
 * Whether two results differ in their errors by more than chance. With the same S and N and at least four whole
 * electrical cycles in common, squared errors at the same command are paired and averaged over each cycle (neighbouring
 * commands hang together, cycles hardly), and their differences put to Student's t. Else the intervals decide.
 */
export const pairDifference = (one: ComparedMotor, two: ComparedMotor): PairDifference => {
  const ratio = positionsPerTurn(one).value / positionsPerTurn(two).value
  const shown = { ratio, ratioInterval: ratioInterval(one, two, ratio) }
  const differences = cycleDifferences(one, two)
  if (differences.length >= fewestCycles) return { ...shown, p: paired(differences), method: 'paired by command', cycles: differences.length }
  return { ...shown, p: unpaired(one, two, ratio), method: 'from the intervals', cycles: 0 }
}
