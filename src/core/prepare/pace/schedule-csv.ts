import type { PaceSetup } from './pace-setup.ts'
import { type PaceEvent, scheduleOf } from './schedule-of.ts'

const row = (event: PaceEvent, degPerCommand: number): string => {
  const when = event.atS.toFixed(3)
  const seconds = event.seconds.toFixed(3)
  if (event.kind === 'cool') return `${when},cool,,,,,${seconds}`
  const command = event.kind === 'mark' ? event.command : event.to
  const angle = (command * degPerCommand).toFixed(6)
  return event.kind === 'mark'
    ? `${when},mark,${event.pass},${event.direction > 0 ? '+' : '-'},${command},${angle},${seconds}`
    : `${when},${event.why},,,${command},${angle},${seconds}`
}

/**
 * The run as CSV, one row per move, mark or pause: start time in s, what, pass, direction, commanded index reached, shaft angle in
 * deg in the sense of the first pass, seconds taken.
 */
export const scheduleCsv = (setup: PaceSetup): string => {
  const degPerCommand = 360 / setup.stepsPerRev / setup.microsteps
  return [
    'time_s,action,pass,direction,command,shaft_deg,seconds',
    ...scheduleOf(setup).map((event) => row(event, degPerCommand)),
    '',
  ].join('\r\n')
}
