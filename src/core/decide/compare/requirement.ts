import { modeName } from '#core/decide/recommend'
import { bestMode, type ComparedMotor, positionsPerTurn } from './compared-motor.ts'

/** What a machine needs; null where it does not care. Angles deg at the shaft. */
export interface Requirement {
  /** Least effective microsteps per full step. */
  readonly effective: number | null
  /** Least step mode that must hold. */
  readonly mode: number | null
  /** Most that may be lost on reversing. */
  readonly reversalDeg: number | null
  /** Coarsest effective step at the shaft that will do. */
  readonly resolutionDeg: number | null
}

export type Met = 'meets' | 'misses' | 'open'

/** One need held against one motor. */
export interface Check {
  readonly need: string
  readonly met: Met
  readonly found: string
}

const figure = (value: number): string => Number(value.toPrecision(3)).toString()

/** Meets when the whole interval does, misses when none of it does. */
const atLeast = ({ low, high }: { readonly low: number; readonly high: number }, least: number): Met => (low >= least ? 'meets' : high < least ? 'misses' : 'open')

const modeCheck = (motor: ComparedMotor, least: number): Check => {
  const best = bestMode(motor)
  const finer = motor.modes.filter(({ microsteps }) => microsteps >= least)
  const met = best !== null && best >= least ? 'meets' : finer.some(({ verdict }) => verdict === 'not proven') ? 'open' : 'misses'
  return { need: `${modeName(least)} or finer hold`, met, found: best === null ? 'none holds' : `${modeName(best)} hold` }
}

const reversalCheck = ({ reversal }: ComparedMotor, most: number): Check => {
  const need = `reversal at most ${figure(most)}°`
  if (!reversal) return { need, met: 'open', found: 'one direction only' }
  const size = Math.abs(reversal.deg)
  const spread = 2 * reversal.uDeg
  const met = size + spread <= most ? 'meets' : size - spread > most ? 'misses' : 'open'
  return { need, met, found: `${figure(size)} ± ${figure(spread)}°` }
}

const effectiveCheck = ({ effective }: ComparedMotor, least: number): Check => ({
  need: `at least ${figure(least)} effective microsteps`,
  met: atLeast(effective, least),
  found: `${figure(effective.value)} (${figure(effective.low)} to ${figure(effective.high)})`,
})

const resolutionCheck = (motor: ComparedMotor, coarsestDeg: number): Check => {
  const { value, low, high } = positionsPerTurn(motor)
  return {
    need: `effective step at most ${figure(coarsestDeg)}° at the shaft`,
    met: atLeast({ low, high }, (360 / coarsestDeg) * (1 - 1e-12)),
    found: `${figure(360 / value)}° (${figure(360 / high)} to ${figure(360 / low)})`,
  }
}

/** Every stated need against one motor, in the order of the requirement. */
export const checksOf = (motor: ComparedMotor, { effective, mode, reversalDeg, resolutionDeg }: Requirement): Check[] => [
  ...(effective === null ? [] : [effectiveCheck(motor, effective)]),
  ...(mode === null ? [] : [modeCheck(motor, mode)]),
  ...(reversalDeg === null ? [] : [reversalCheck(motor, reversalDeg)]),
  ...(resolutionDeg === null ? [] : [resolutionCheck(motor, resolutionDeg)]),
]

/** All needs together: missed as soon as one is, met only when all are. */
export const metBy = (checks: readonly Check[]): Met =>
  checks.some(({ met }) => met === 'misses') ? 'misses' : checks.some(({ met }) => met === 'open') ? 'open' : 'meets'
