import { csvField } from '#core/quantity/csv-field'
import { oneLine } from '#core/quantity/one-line'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { PaceSetup } from './pace-setup.ts'

/** A mark the person was asked for. */
export interface AskedMark {
  readonly command: number
  readonly pass: number
  readonly direction: 1 | -1
}

/** What came of it: a row of the trace, its position still empty unless it was typed; or no mark. */
export interface MadeMark extends AskedMark {
  readonly skipped: boolean
  /** As typed, '' when the mark is to be read off later. */
  readonly position: string
  readonly note: string
}

const sign = (direction: 1 | -1): string => (direction > 0 ? '+' : '-')

/** A row of the trace file, line end included; a skipped mark is a remark that the trace reader passes over. */
export const traceRow = ({ command, pass, direction, skipped, position, note }: MadeMark): string =>
  skipped
    ? `# skipped pass ${pass} ${sign(direction)} command ${command}\n`
    : `${position},${command},,${pass},${sign(direction)},${csvField(note)}\n`

const keys = [
  'commands',
  'passes',
  'bothWays',
  'direction',
  'settleS',
  'dwellS',
  'runUp',
  'rate',
  'coolS',
  'energisedLimitS',
] as const

/** Head of the trace file: set-up lines (key: value), the run itself as a remark so that it can be resumed, column names. */
export const traceHead = (setup: PaceSetup, setUpLines: readonly (readonly [key: string, value: string])[]): string => {
  const run = keys.map((key) => `${key}=${String(setup[key])}`).join(' ')
  return [
    ...setUpLines.map(([key, value]) => `# ${key}: ${oneLine(value)}`),
    `# paced run ${run}`,
    'position,command,tally,pass,direction,note',
    '',
  ].join('\n')
}

/** A run that was stopped: its numbers, and how many marks were dealt with. */
export interface StoppedRun {
  readonly run: Pick<PaceSetup, (typeof keys)[number]>
  readonly done: readonly AskedMark[]
  /** Length in characters up to the end of the last whole line; what follows was cut off by the stop. */
  readonly wholeLength: number
}

const runLine = /^# paced run (.+)$/m

const readRun = (text: string): StoppedRun['run'] | null => {
  const words = new Map(
    (runLine.exec(text)?.[1] ?? '').split(' ').map((word) => word.split('=') as [string, string | undefined]),
  )
  const numbers = Object.fromEntries(
    keys.map((key) => [key, key === 'bothWays' ? words.get(key) === 'true' : Number(words.get(key))]),
  ) as unknown as StoppedRun['run']
  return keys.every((key) => key === 'bothWays' || Number.isFinite(numbers[key])) ? numbers : null
}

const doneOf = (line: string): readonly AskedMark[] => {
  const skipped = /^# skipped pass (\d+) ([+-]) command (-?\d+)$/.exec(line)
  const made = /^[^,#]*,(-?\d+),\d*,(\d+),([+-]),/.exec(line)
  const [pass, direction, command] = skipped
    ? [skipped[1], skipped[2], skipped[3]]
    : made
      ? [made[2], made[3], made[1]]
      : []
  return command === undefined
    ? []
    : [{ command: Number(command), pass: Number(pass), direction: direction === '+' ? 1 : -1 }]
}

/** A stopped run from its trace file; a last line without its line end was cut off by the stop and does not count. */
export const readStoppedRun = (text: string, where: string): StoppedRun | Unmeasurable => {
  const run = readRun(text)
  if (!run) return unmeasurable('it was not begun by pace, or its head was cut off', where, 'begin a new trace file')
  const wholeLength = text.lastIndexOf('\n') + 1
  const done = text.slice(0, wholeLength).split(/\r?\n/).flatMap(doneOf)
  return { run, done, wholeLength }
}
