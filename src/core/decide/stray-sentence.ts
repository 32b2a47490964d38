import type { StrayMark } from '#core/figures/stray-marks'
import type { ModeVerdict } from './mode-verdict.ts'

export interface StrayContext {
  /** Lines of the file, or numbers of the marks, in the order of the strays. */
  readonly lines: readonly number[]
  /** Verdicts as they stand, and as they would be with the strays between their neighbours. */
  readonly modes: readonly ModeVerdict[]
  readonly without: readonly ModeVerdict[]
}

const list = (words: readonly (string | number)[]): string => (words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`)

/** What to say about marks that stand alone, with what hangs on them; nothing where there are none. */
export const straySentence = (strays: readonly StrayMark[], { lines, modes, without }: StrayContext): string[] => {
  if (strays.length === 0) return []
  const failing = modes.flatMap(({ microsteps, verdict }, i) => (verdict === 'fails' && without[i]?.verdict !== 'fails' ? [`1/${microsteps}`] : []))
  const one = strays.length === 1
  const off = strays.map(({ offDeg }) => `${Math.abs(offDeg).toPrecision(2)}°`)
  const hangs = failing.length > 0 ? `; ${list(failing)} ${failing.length === 1 ? 'fails' : 'fail'} by ${one ? 'it' : 'them'} alone` : ''
  return [`${one ? 'Mark' : 'Marks'} ${list(lines)} ${one ? 'stands' : 'stand'} alone, ${list(off)} off ${one ? 'its' : 'their'} neighbours and the other cycles: a slip of the hand, or the shaft hung there once${hangs}. Mark ${one ? 'that command' : 'those commands'} again to know.`]
}
