import type { Command } from 'commander'
import { readNeeds } from '#core/decide/compare/read-needs'
import type { Requirement } from '#core/decide/compare/requirement'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import type { CompareOptions } from '#adapters/terminal/compare-command'
import { wrongUsage } from '#adapters/terminal/motor-options'
import { tell } from '#adapters/terminal/outcome'

const optionNames = { effective: '--need-effective', mode: '--need-mode', resolution: '--need-resolution', reversal: '--need-reversal' } as const

/** The requirement as the options state it, turned to angles at the shaft; wrong usage for what cannot be read. */
export const needsFrom = ({ needEffective: effective, needMode: mode, needResolution: resolution, needReversal: reversal, train }: CompareOptions, command: Command): Requirement => {
  const read = readNeeds({ effective, mode, resolution, reversal, train }, optionNames)
  if (isUnmeasurable(read)) return wrongUsage(command, sentenceOf(read))
  read.warnings.forEach((warning) => {
    tell(`note: ${warning}`)
  })
  return read.requirement
}
