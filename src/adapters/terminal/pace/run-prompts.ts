import type { Command } from 'commander'
import { type MadeMark, traceRow } from '#core/prepare/pace/pace-rows'
import { beginning, isOver, type PaceState, type PaceStep, pressKey, timeOver } from '#core/prepare/pace/pace-session'
import { marksOf, type PaceEvent } from '#core/prepare/pace/schedule-of'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { systemReason } from '#adapters/files/system-reason'
import { type Shown, tell } from '#adapters/terminal/outcome'
import { folded, terminalColumns } from '#adapters/terminal/fitted-table'
import type { PaceOptions } from '#adapters/terminal/pace-command'
import { type KeySource, keySource } from './key-source.ts'
import { type OpenRun, openRun } from './open-run.ts'
import { askOf, progressLine } from './progress-line.ts'

const help = 'Enter marked · p pause · r time again · s skip · n note · digits position · q stop'

/** Shows where the run stands: one line rewritten on a terminal, a line per mark elsewhere. */
const screen = (run: OpenRun) => {
  const live = process.stderr.isTTY
  let shown = -1
  return {
    live,
    draw: (state: PaceState, elapsedS: number): void => {
      if (live)
        process.stderr.write(
          `\r\u001b[2K${progressLine(run.events, state, { setup: run.setup, elapsedS, columns: terminalColumns() })}`,
        )
      else if (shown !== state.index) tell(askOf(run.events[state.index], run.setup, Number.POSITIVE_INFINITY))
      shown = state.index
    },
    end: (): void => {
      if (live) process.stderr.write('\r\u001b[2K')
    },
  }
}

type Screen = ReturnType<typeof screen>

interface Tally {
  readonly made: number
  readonly skipped: number
}

interface Walked {
  readonly state: PaceState
  readonly tally: Tally
}

const waitFor = (event: PaceEvent | undefined, state: PaceState, run: OpenRun): number =>
  state.paused || state.typing !== 'nothing' || (run.setup.dwellS === 0 && event?.kind === 'mark')
    ? Number.POSITIVE_INFINITY
    : (event?.seconds ?? 0)

const counted = ({ made, skipped }: Tally, mark: MadeMark): Tally =>
  mark.skipped ? { made, skipped: skipped + 1 } : { made: made + 1, skipped }

type Heard = Awaited<ReturnType<KeySource['next']>>

const stepFor = (heard: Heard, state: PaceState, { events }: OpenRun): PaceStep => {
  if (heard.kind === 'time') return timeOver(events, state)
  // A pipe that ended while the run waits for Enter stops it, as Ctrl-D does.
  return pressKey(events, state, heard.kind === 'key' ? heard.key : '\u0004')
}

/** Walks the events; every mark is on the disk before the next is asked for. */
const walk = async (run: OpenRun, keys: KeySource, view: Screen): Promise<Walked> => {
  let state: PaceState = { ...beginning, index: run.index }
  let tally: Tally = { made: 0, skipped: 0 }
  let elapsed = 0
  let since = performance.now()
  while (!isOver(run.events, state)) {
    const now = performance.now()
    elapsed += state.paused || state.typing !== 'nothing' ? 0 : (now - since) / 1000
    since = now
    view.draw(state, elapsed)
    const leftMs = (waitFor(run.events[state.index], state, run) - elapsed) * 1000
    const heard = await keys.next(view.live && Number.isFinite(leftMs) ? Math.min(100, Math.max(0, leftMs)) : leftMs)
    if (heard.kind === 'time' && leftMs > 100) continue
    const step = stepFor(heard, state, run)
    if (step.made) {
      await run.file.append(traceRow(step.made))
      tally = counted(tally, step.made)
    }
    if (step.restart) elapsed = 0
    if (step.restart) since = performance.now()
    state = step.state
  }
  return { state, tally }
}

/** Walks the run and puts the terminal back however it ends; a row that cannot be written ends it in one sentence. */
const walked = async (run: OpenRun, path: string): Promise<Walked | Unmeasurable> => {
  const keys = keySource(process.stdin)
  const view = screen(run)
  try {
    return await walk(run, keys, view)
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : ''
    if (code === '') throw error
    return unmeasurable(
      `a mark could not be written (${systemReason(error)}); those before it are safe`,
      path,
      'make room or repair the disk, then go on with --resume',
    )
  } finally {
    view.end()
    keys.close()
    await run.file.close()
  }
}

const closing = (path: string, finished: boolean, { made, skipped }: Tally, left: number): string =>
  [
    `${path}: ${made} ${made === 1 ? 'mark' : 'marks'}${skipped > 0 ? `, ${skipped} skipped` : ''}.`,
    finished
      ? 'Switch the driver off, then type the positions into the file (or photograph the sheet) and measure.'
      : `${left} marks to go; leave the motor as it stands and go on with --resume.`,
  ].join('\n')

/** The prompts of `pace`: writes the trace as the marks are made, so that a stop at any moment loses none. */
export const runPrompts = async (
  path: string,
  options: PaceOptions,
  command: Command,
): Promise<Shown | Unmeasurable> => {
  const run = await openRun(path, options, command)
  if (isUnmeasurable(run)) return run
  tell(folded(options.resume ? `going on with ${path} as it was begun; the motor must still stand where it was left` : help))
  const outcome = await walked(run, path)
  if (isUnmeasurable(outcome)) return outcome
  const { state, tally } = outcome
  const left = marksOf(run.events.slice(state.index)).length
  const finished = left === 0
  return {
    json: { schema: 'stepwitness/pace@1', trace: path, marks: tally.made, skipped: tally.skipped, left, finished },
    text: closing(path, finished, tally, left),
  }
}
