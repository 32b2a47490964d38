import type { Command } from 'commander'
import type { Requirement } from '#core/decide/compare/requirement'
import { travelUnit, travelPerTurn, ratioOf } from '#core/decide/drive/drive-train'
import { readTrain } from '#core/decide/drive/read-train'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import type { CompareOptions } from '#adapters/terminal/compare-command'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import { tell } from '#adapters/terminal/outcome'
import { quantityOption } from '#adapters/terminal/quantity-option'

/** Travel per degree at the motor's shaft, and what it is measured in. */
interface Scale {
  readonly perDegree: number
  readonly kind: 'length' | 'angle'
}

const scaleOf = (text: string | undefined, command: Command): Scale => {
  if (text === undefined) return { perDegree: 1, kind: 'angle' }
  const read = readTrain(text, 'drive train')
  if (isUnmeasurable(read)) return wrongUsage(command, sentenceOf(read))
  read.warnings.forEach((warning) => {
    tell(`note: ${warning}`)
  })
  const { reductions, output } = read.train
  return { perDegree: travelPerTurn(output) / ratioOf(reductions) / 360, kind: travelUnit(output) === 'mm' ? 'length' : 'angle' }
}

const positive = (command: Command, [name, text]: readonly [string, string | undefined]): number | null => {
  if (text === undefined) return null
  const value = Number(text.trim().replace(',', '.'))
  return value > 0 && Number.isFinite(value) ? value : wrongUsage(command, `${name} must be a number above zero, not "${text}"`)
}

const mustBePositive = (command: Command, name: string, value: number | null): number | null =>
  value === 0 ? wrongUsage(command, `${name} must be above zero`) : value

/** The requirement as the options state it, turned to angles at the shaft; wrong usage for what cannot be read. */
export const needsFrom = (options: CompareOptions, command: Command): Requirement => {
  const { perDegree, kind } = scaleOf(options.train, command)
  const atShaft = (value: number | null): number | null => (value === null ? null : value / perDegree)
  const resolution = quantityOption(command, ['--need-resolution', options.needResolution], kind)
  return {
    effective: positive(command, ['--need-effective', options.needEffective]),
    mode: options.needMode === undefined ? null : wholeOption(command, ['--need-mode', options.needMode]),
    resolutionDeg: atShaft(mustBePositive(command, '--need-resolution', resolution)),
    reversalDeg: atShaft(quantityOption(command, ['--need-reversal', options.needReversal], kind)),
  }
}
