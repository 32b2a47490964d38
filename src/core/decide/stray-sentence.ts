import type { StrayMark } from '#core/figures/stray-marks'
import type { StrayRepeat } from '#core/figures/stray-repeats'
import type { ModeVerdict } from './mode-verdict.ts'
import { twoDigits } from '#core/quantity/write-number'

export interface StrayContext {
  /** Names of the marks, in the order of the strays. */
  readonly names: readonly string[]
  /** Verdicts as they stand, and as they would be with the strays between their neighbours. */
  readonly modes: readonly ModeVerdict[]
  readonly without: readonly ModeVerdict[]
}

/** More than these are not named one by one. */
const mostNamed = 6

const list = (words: readonly string[]): string => {
  if (words.length > mostNamed) return `${words.slice(0, mostNamed).join(', ')} and ${words.length - mostNamed} more`
  return words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}

/** Which modes fail only by the strays. */
const hanging = ({ modes, without }: Pick<StrayContext, 'modes' | 'without'>, them: string): string => {
  const failing = modes.flatMap(({ microsteps, verdict }, i) => (verdict === 'fails' && without[i]?.verdict !== 'fails' ? [`1/${microsteps}`] : []))
  return failing.length > 0 ? `; ${list(failing)} ${failing.length === 1 ? 'fails' : 'fail'} by ${them} alone` : ''
}

const size = ({ offDeg }: StrayMark): string => `${twoDigits(Math.abs(offDeg))}°`

/** What to say about marks that stand alone, with what hangs on them; nothing where there are none. */
export const straySentence = (strays: readonly StrayMark[], { names, modes, without }: StrayContext): string[] => {
  if (strays.length === 0) return []
  const one = strays.length === 1
  const hangs = hanging({ modes, without }, one ? 'it' : 'them')
  return [`${one ? 'Mark' : 'Marks'} ${list(names)} ${one ? 'stands' : 'stand'} alone, ${list(strays.map(size))} off ${one ? 'its' : 'their'} neighbours and the other cycles: a slip of the hand or of the typing, or the shaft hung there once${hangs}. ${one ? 'Correct it, or mark that command' : 'Correct them, or mark those commands'} again.`]
}

/** The same for rests that one pass has elsewhere than the others. */
export const strayRepeatSentence = (strays: readonly StrayRepeat[], verdicts: Pick<StrayContext, 'modes' | 'without'>): string[] => {
  if (strays.length === 0) return []
  const named = strays.map((stray) => `at command ${stray.command}${stray.pass === null ? '' : ` of pass ${stray.pass}`}${stray.back ? ' on the way back' : ''} by ${size(stray)}`)
  return [`One pass stands off the ${strays.some(({ pass }) => pass === null) ? 'other' : 'others'} ${list(named)}: a slip of the hand or of the typing, or the shaft hung there once${hanging(verdicts, strays.length === 1 ? 'it' : 'them')}. It counts in the mean; correct it, or mark ${strays.length === 1 ? 'that command' : 'those commands'} again.`]
}
