import { modeName } from '#core/decide/recommend'
import { intervalText } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

const verdictWords = { holds: '✓ holds', fails: '✕ fails', 'not proven': '? not proven' } as const

export const sectionModes = (result: Result): string => {
  const { modes, settings, recommendation } = result
  const { low, high } = settings.incrementLimits
  const phase = settings.fullStepCommand
  const rows = modes.map(({ microsteps, verdict, worstIncrement, why, toSettle }) => [{ text: `${modeName(microsteps)}${microsteps === recommendation.microsteps ? ' (recommended)' : ''}`, remark: toSettle ? `${why}. To settle it: ${toSettle.text}` : why }, verdictWords[verdict], worstIncrement ? intervalText(worstIncrement) : '–'])
  return section(
    'modes',
    'Step modes',
    paragraph(`A mode holds when every increment lies between ${low} and ${high} of its nominal beyond its own uncertainty, fails when one lies outside beyond it, and is not proven otherwise (decision rule of ISO 14253-1). Full steps are counted from command ${phase.command}, ${{ given: 'as given', start: 'the start, as nobody said otherwise', fit: 'where they come out most even' }[phase.decidedBy]}.`) +
      table({ caption: 'Verdict per step mode', head: ['step mode', 'verdict', 'worst increment, nominal 1'], rows, rowClass: modes.map(({ verdict }) => verdict.replace(' ', '-')) }),
  )
}
