import type { PaceState } from '#core/prepare/pace/pace-session'
import type { PaceSetup } from '#core/prepare/pace/pace-setup'
import type { PaceEvent } from '#core/prepare/pace/schedule-of'

const clock = (seconds: number): string => {
  const whole = Math.max(0, Math.ceil(seconds))
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

const bar = (share: number, width: number): string => {
  const full = Math.round(Math.min(1, Math.max(0, share)) * width)
  return `[${'#'.repeat(full)}${'.'.repeat(width - full)}]`
}

const moves = (event: Extract<PaceEvent, { kind: 'run' }>): string => {
  const count = event.to - event.from
  const what = { 'run-up': 'run-up', overrun: 'go past the end', start: 'come to the start' }[event.why]
  return `${what}: ${Math.abs(count)} commands ${count < 0 ? 'back' : 'forward'}`
}

/** What the person is asked to do now, in a few words. */
export const askOf = (event: PaceEvent | undefined, setup: PaceSetup, elapsedS: number): string => {
  if (!event) return 'done'
  if (event.kind === 'cool') return 'current off, let it cool'
  if (event.kind === 'run') return moves(event)
  const name = `${setup.passes > 1 ? `pass ${event.pass} ` : ''}${event.direction > 0 ? '' : 'return '}command ${event.command} of ${setup.commands}`
  return `${name}: ${elapsedS < event.seconds - setup.dwellS ? 'step, wait' : 'MARK'}`
}

/** One line that fits the width: what to do, the time left for it, a bar and the time left of the whole run. */
export const progressLine = (
  events: readonly PaceEvent[],
  state: PaceState,
  { setup, elapsedS, columns }: { readonly setup: PaceSetup; readonly elapsedS: number; readonly columns: number },
): string => {
  const event = events[state.index]
  const last = events.at(-1)
  const total = (last?.atS ?? 0) + (last?.seconds ?? 0)
  const done = event ? event.atS + Math.min(elapsedS, event.seconds) : total
  if (state.typing !== 'nothing') return `${state.typing}: ${state.typed}_`.slice(0, columns - 1)
  const left =
    setup.dwellS === 0
      ? 'Enter'
      : state.paused
        ? 'paused'
        : `${Math.max(0, (event?.seconds ?? 0) - elapsedS).toFixed(1)} s`
  const ask = askOf(event, setup, elapsedS)
  const short = ask.replace(/^pass \d+ /, '').replace('command ', '')
  const [wide, tail] = [`${ask}  ${left}`, ` ${clock(total - done)} left`]
  const room = columns - 1 - wide.length - tail.length - 3
  if (room >= 6) return `${wide} ${bar(done / total, Math.min(24, room))}${tail}`
  return (room >= -3 ? `${wide}${tail}` : `${short}  ${left}${tail}`).slice(0, columns - 1)
}
