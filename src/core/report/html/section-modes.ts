import { modeName } from '#core/decide/recommend'
import { intervalText, plainNumber } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

const verdictWords = { holds: '✓ holds', fails: '✕ fails', 'not proven': '? not proven' } as const

/** What other limits or another u would make of the verdicts; nothing where no mode was judged. */
const hangsOn = ({ modes, uncertainty }: Result): string => {
  const judged = modes.filter(({ sensitivity }) => sensitivity !== null)
  const markWith = (factor: number | null): string => (factor === null ? 'none' : `${plainNumber(factor * uncertainty.markDeg, 2)}°`)
  const rows = judged.map(({ microsteps, sensitivity }) => [
    modeName(microsteps),
    `± ${plainNumber(sensitivity?.holdsFromHalfWidth ?? 0, 3)}`,
    `± ${plainNumber(sensitivity?.failsBelowHalfWidth ?? 0, 3)}`,
    markWith(sensitivity?.uFactorToHold ?? null),
    markWith(sensitivity?.uFactorToFail ?? null),
  ])
  return judged.length === 0 ? '' : table({ caption: 'How the verdicts hang on the limits and on u, for the increments as measured', head: ['step mode', 'holds with limits of 1 and', 'fails with limits within 1 and', 'holds with u up to', 'fails with u up to'], rows, numeric: [1, 2, 3, 4] })
}

export const sectionModes = (result: Result): string => {
  const { modes, settings, recommendation } = result
  const { low, high } = settings.incrementLimits
  const phase = settings.fullStepCommand
  const rows = modes.map(({ microsteps, verdict, worstIncrement, why, toSettle }) => [{ text: `${modeName(microsteps)}${microsteps === recommendation.microsteps ? ' (recommended)' : ''}`, remark: toSettle ? `${why}. To settle it: ${toSettle.text}` : why }, verdictWords[verdict], worstIncrement ? intervalText(worstIncrement) : '–'])
  return section(
    'modes',
    'Step modes',
    paragraph(`A mode holds when every increment lies between ${low} and ${high} of its nominal beyond its own uncertainty, fails when one lies outside beyond it, and is not proven otherwise (decision rule of ISO 14253-1). Full steps are counted from command ${phase.command}, ${{ given: 'as given', start: 'the start, as nobody said otherwise', fit: 'where they come out most even' }[phase.decidedBy]}.`) +
      table({ caption: 'Verdict per step mode', head: ['step mode', 'verdict', 'worst increment, nominal 1'], rows, rowClass: modes.map(({ verdict }) => verdict.replace(' ', '-')) }) +
      hangsOn(result),
  )
}
