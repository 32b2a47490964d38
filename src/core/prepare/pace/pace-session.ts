import type { MadeMark } from './pace-rows.ts'
import type { PaceEvent } from './schedule-of.ts'

/** Where a person stands in a run. */
export interface PaceState {
  readonly index: number
  readonly paused: boolean
  /** What is being typed: nothing, a note, or the mark's position. */
  readonly typing: 'nothing' | 'note' | 'position'
  readonly typed: string
  readonly note: string
  readonly stopped: boolean
}

/** What a key or the clock led to. */
export interface PaceStep {
  readonly state: PaceState
  /** A mark that is now dealt with and must be written before going on. */
  readonly made: MadeMark | null
  /** The time of the present event begins again. */
  readonly restart: boolean
}

export const beginning: PaceState = { index: 0, paused: false, typing: 'nothing', typed: '', note: '', stopped: false }

const stay = (state: PaceState, restart = false): PaceStep => ({ state, made: null, restart })

const madeFrom = (event: PaceEvent | undefined, state: PaceState, skipped: boolean): MadeMark | null =>
  event?.kind === 'mark'
    ? {
        command: event.command,
        pass: event.pass,
        direction: event.direction,
        skipped,
        position: state.typing === 'position' ? state.typed : '',
        note: state.typing === 'note' ? state.typed.trim() : state.note,
      }
    : null

const onward = (events: readonly PaceEvent[], state: PaceState, skipped = false): PaceStep => ({
  state: { ...beginning, index: state.index + 1 },
  made: madeFrom(events[state.index], state, skipped),
  restart: true,
})

/** As the trace file wants it, whatever decimal mark was typed; null for what is no number. */
const positionFrom = (typed: string): string | null => {
  const pointed = typed.trim().replace(',', '.')
  return /^[+-]?(?:\d+\.?\d*|\.\d+)$/.test(pointed) ? pointed : null
}

const whileTyping = (events: readonly PaceEvent[], state: PaceState, key: string): PaceStep => {
  if (key === '\u001b') return stay({ ...state, typing: 'nothing', typed: '' })
  if (key === '\u007f' || key === '\b') return stay({ ...state, typed: [...state.typed].slice(0, -1).join('') })
  if (key !== '\r' && key !== '\n') return key < ' ' ? stay(state) : stay({ ...state, typed: state.typed + key })
  if (state.typing === 'note') return stay({ ...state, typing: 'nothing', typed: '', note: state.typed.trim() })
  // What is no number stays in sight, to be mended or dropped: it must not get lost unseen.
  const position = positionFrom(state.typed)
  return position === null ? stay(state) : onward(events, { ...state, typed: position })
}

/**
 * One key: Enter the mark is made (go on), p or space pause, r the time of this mark again, s no mark here, n a note (Enter ends
 * it, Esc drops it), a digit or . , - begins the mark's position, q or Ctrl-C or Ctrl-D stop. Other keys do nothing.
 */
export const pressKey = (events: readonly PaceEvent[], state: PaceState, key: string): PaceStep => {
  if (key === '\u0003' || key === '\u0004') return stay({ ...state, stopped: true })
  if (state.typing !== 'nothing') return whileTyping(events, state, key)
  if (key === '\r' || key === '\n') return onward(events, state)
  if (/^[0-9.,-]$/.test(key))
    return events[state.index]?.kind === 'mark' ? stay({ ...state, typing: 'position', typed: key }) : stay(state)
  switch (key) {
    case 'p':
    case ' ':
      return stay({ ...state, paused: !state.paused })
    case 'r':
      return stay({ ...state, paused: false }, true)
    case 's':
      return onward(events, state, true)
    case 'n':
      return events[state.index]?.kind === 'mark' ? stay({ ...state, typing: 'note', typed: '' }) : stay(state)
    case 'q':
      return stay({ ...state, stopped: true })
    default:
      return stay(state)
  }
}

/** The time of the present event is over: the mark counts as made. While something is typed or the run is paused, time stands still. */
export const timeOver = (events: readonly PaceEvent[], state: PaceState): PaceStep =>
  state.paused || state.typing !== 'nothing' ? stay(state) : onward(events, state)

/** All events are done, or the person stopped. */
export const isOver = (events: readonly PaceEvent[], state: PaceState): boolean =>
  state.stopped || state.index >= events.length

/** Index of the event after so many marks dealt with: where a stopped run goes on, run-up moves before that mark included. */
export const indexAfterMarks = (events: readonly PaceEvent[], marks: number): number => {
  let seen = 0
  const last = events.findIndex((event) => {
    if (event.kind === 'mark') seen += 1
    return event.kind === 'mark' && seen === marks
  })
  return marks === 0 ? 0 : last < 0 ? events.length : last + 1
}
