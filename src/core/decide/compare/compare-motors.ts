import { bestMode, type ComparedMotor, positionsPerTurn } from './compared-motor.ts'
import { holm } from './holm.ts'
import { pairDifference, type PairDifference } from './pair-difference.ts'
import { type Check, checksOf, type Met, metBy, type Requirement } from './requirement.ts'

/** One result in the ranking. */
export interface Ranked {
  readonly rank: number
  readonly label: string
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly effective: ComparedMotor['effective']
  readonly positionsPerTurn: ComparedMotor['effective']
  readonly bestMode: number | null
  readonly reversal: ComparedMotor['reversal']
  readonly met: Met
  readonly checks: readonly Check[]
  /** Whether it can be told from the one above it in the ranking (Holm-corrected, 5 %); null for the first. */
  readonly toldFromAbove: boolean | null
}

export interface Pair extends PairDifference {
  readonly first: string
  readonly second: string
  /** p corrected for all pairs looked at (Holm). */
  readonly pCorrected: number
  readonly differ: boolean
}

export interface Comparison {
  readonly kind: 'comparison'
  readonly ranked: readonly Ranked[]
  readonly pairs: readonly Pair[]
  readonly requirement: Requirement
}

const level = 0.05
const order: Readonly<Record<Met, number>> = { meets: 0, open: 1, misses: 2 }

const pairsOf = (motors: readonly ComparedMotor[]): Pair[] => {
  const found = motors.flatMap((one, i) => motors.slice(i + 1).map((two) => ({ first: one.label, second: two.label, ...pairDifference(one, two) })))
  const corrected = holm(found.map(({ p }) => p))
  return found.map((pair, i) => ({ ...pair, pCorrected: corrected[i] ?? 1, differ: (corrected[i] ?? 1) < level }))
}

/**
 * Results side by side: those that meet the requirement first, then those that may, then those that miss it; within each
 * the most effective positions per turn first. Every pair is tested, with Holm's correction.
 * @param motors at least one, labels all different
 */
export const compareMotors = (motors: readonly ComparedMotor[], requirement: Requirement): Comparison => {
  const judged = motors.map((motor) => {
    const checks = checksOf(motor, requirement)
    return { motor, checks, met: metBy(checks) }
  })
  const sorted = judged.toSorted((a, b) => order[a.met] - order[b.met] || positionsPerTurn(b.motor).value - positionsPerTurn(a.motor).value)
  const pairs = pairsOf(sorted.map(({ motor }) => motor))
  const told = (above: string, label: string): boolean => pairs.some(({ first, second, differ }) => first === above && second === label && differ)
  const ranked = sorted.map(({ motor, checks, met }, i): Ranked => {
    const above = sorted[i - 1]?.motor.label
    const { label, stepsPerRev, microsteps, effective, reversal } = motor
    return { rank: i + 1, label, stepsPerRev, microsteps, effective, positionsPerTurn: positionsPerTurn(motor), bestMode: bestMode(motor), reversal, met, checks, toldFromAbove: above === undefined ? null : told(above, label) }
  })
  return { kind: 'comparison', ranked, pairs, requirement }
}
