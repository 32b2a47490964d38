import type { Command } from 'commander'
import { type MadeMark, traceRow } from '#core/prepare/pace/pace-rows'
import { beginning, isOver, type PaceState, pressKey, timeOver } from '#core/prepare/pace/pace-session'
import { marksOf, type PaceEvent } from '#core/prepare/pace/schedule-of'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { type Shown, tell } from '#adapters/terminal/outcome'
import { terminalColumns } from '#adapters/terminal/fitted-table'
import type { PaceOptions } from '#adapters/terminal/pace-command'
import { keySource } from './key-source.ts'
import { type OpenRun, openRun } from './open-run.ts'
import { askOf, progressLine } from './progress-line.ts'

const help = 'Enter marked · p pause · r time again · s skip · n note · digits position · q stop'

/** Shows where the run stands: one line rewritten on a terminal, a line per mark elsewhere. */
const screen = (run: OpenRun) => {
  const live = process.stderr.isTTY
  let shown = -1
  return {
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

interface Tally {
  readonly made: number
  readonly skipped: number
}

const waitFor = (event: PaceEvent | undefined, state: PaceState, run: OpenRun): number =>
  state.paused || state.typing !== 'nothing' || (run.setup.dwellS === 0 && event?.kind === 'mark')
    ? Number.POSITIVE_INFINITY
    : (event?.seconds ?? 0)

const counted = ({ made, skipped }: Tally, mark: MadeMark): Tally =>
  mark.skipped ? { made, skipped: skipped + 1 } : { made: made + 1, skipped }

/** Walks the events; every mark is on the disk before the next is asked for. */
const walk = async (run: OpenRun): Promise<{ readonly state: PaceState; readonly tally: Tally }> => {
  const keys = keySource(process.stdin)
  const view = screen(run)
  let state: PaceState = { ...beginning, index: run.index }
  let tally: Tally = { made: 0, skipped: 0 }
  let elapsed = 0
  let since = performance.now()
  while (!isOver(run.events, state)) {
    const now = performance.now()
    const still = state.paused || state.typing !== 'nothing'
    elapsed += still ? 0 : (now - since) / 1000
    since = now
    view.draw(state, elapsed)
    const left = (waitFor(run.events[state.index], state, run) - elapsed) * 1000
    const heard = await keys.next(
      process.stderr.isTTY && Number.isFinite(left) ? Math.min(100, Math.max(0, left)) : left,
    )
    if (heard.kind === 'time' && left > 100) continue
    const step =
      heard.kind === 'key'
        ? pressKey(run.events, state, heard.key)
        : heard.kind === 'end'
          ? pressKey(run.events, state, '\u0004')
          : timeOver(run.events, state)
    if (step.made) {
      await run.file.append(traceRow(step.made))
      tally = counted(tally, step.made)
    }
    if (step.restart) elapsed = 0
    if (step.restart) since = performance.now()
    state = step.state
  }
  view.end()
  keys.close()
  return { state, tally }
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
  tell(options.resume ? `going on with ${path}; the motor must still stand where it was left` : help)
  const { state, tally } = await walk(run)
  await run.file.close()
  const left = marksOf(run.events.slice(state.index)).length
  const finished = left === 0
  return {
    json: { schema: 'stepwitness/pace@1', trace: path, marks: tally.made, skipped: tally.skipped, left, finished },
    text: closing(path, finished, tally, left),
  }
}
