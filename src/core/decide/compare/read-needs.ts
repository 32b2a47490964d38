import { ratioOf, travelPerTurn, travelUnit } from '#core/decide/drive/drive-train'
import { readTrain } from '#core/decide/drive/read-train'
import { readAmount } from '#core/quantity/read-amount'
import { readNumber } from '#core/quantity/read-number'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Requirement } from './requirement.ts'

/** A requirement as typed; what is left out is not asked for. */
export interface NeedTexts {
  /** Least effective microsteps per full step. */
  readonly effective?: string | undefined
  /** Step mode that must hold: 4 for 1/4 steps. */
  readonly mode?: string | undefined
  /** Coarsest effective step, and most lost on reversing: angles at the shaft, or lengths at the carriage of `train`. */
  readonly resolution?: string | undefined
  readonly reversal?: string | undefined
  /** A drive train in words. */
  readonly train?: string | undefined
}

/** Travel per degree at the motor's shaft, what it is measured in, and what to say about the train. */
interface Scale {
  readonly perDegree: number
  readonly kind: 'length' | 'angle'
  readonly warnings: readonly string[]
}

const scaleOf = (text: string | undefined): Scale | Unmeasurable => {
  if (text === undefined || text.trim() === '') return { perDegree: 1, kind: 'angle', warnings: [] }
  const read = readTrain(text, 'drive train')
  if (isUnmeasurable(read)) return read
  const { reductions, output } = read.train
  return { perDegree: travelPerTurn(output) / ratioOf(reductions) / 360, kind: travelUnit(output) === 'mm' ? 'length' : 'angle', warnings: read.warnings }
}

const count = (text: string | undefined, where: string, whole: boolean): number | null | Unmeasurable => {
  if (text === undefined || text.trim() === '') return null
  const value = readNumber(text, true)
  const fits = value !== null && value > 0 && (!whole || Number.isInteger(value))
  return fits ? value : unmeasurable(`"${text}" is not a ${whole ? 'whole ' : ''}number above zero`, where, whole ? 'give it as 1, 2, 4 …' : 'give it as digits, such as 3.5')
}

const aboveZero = (value: number | null | Unmeasurable, where: string): number | null | Unmeasurable =>
  value === 0 ? unmeasurable('it must be above zero', where, 'give the coarsest step that will do') : value

/**
 * What a machine needs, turned to angles at the motor's shaft.
 * @param where what each need is called in a refusal
 */
export const readNeeds = (texts: NeedTexts, where: Readonly<Record<'effective' | 'mode' | 'resolution' | 'reversal', string>>): { readonly requirement: Requirement; readonly warnings: readonly string[] } | Unmeasurable => {
  const scale = scaleOf(texts.train)
  if (isUnmeasurable(scale)) return scale
  const { perDegree, kind, warnings } = scale
  const [effective, mode] = [count(texts.effective, where.effective, false), count(texts.mode, where.mode, true)]
  const resolution = aboveZero(readAmount(texts.resolution, kind, where.resolution), where.resolution)
  const reversal = readAmount(texts.reversal, kind, where.reversal)
  if (isUnmeasurable(effective)) return effective
  if (isUnmeasurable(mode)) return mode
  if (isUnmeasurable(resolution)) return resolution
  if (isUnmeasurable(reversal)) return reversal
  const atShaft = (value: number | null): number | null => (value === null ? null : value / perDegree)
  return { requirement: { effective, mode, resolutionDeg: atShaft(resolution), reversalDeg: atShaft(reversal) }, warnings }
}
