import type { Command } from 'commander'
import { readSetUp, type SetUp } from '#core/ingest/set-up'
import { takeApart } from '#core/ingest/table'
import { type AskedMark, readStoppedRun, traceHead } from '#core/prepare/pace/pace-rows'
import { indexAfterMarks } from '#core/prepare/pace/pace-session'
import type { PaceSetup } from '#core/prepare/pace/pace-setup'
import { marksOf, type PaceEvent, scheduleOf } from '#core/prepare/pace/schedule-of'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { beginDurable, type DurableFile, readText, resumeDurable } from '#adapters/files/durable-file'
import type { PaceOptions } from '#adapters/terminal/pace-command'
import { headLines, paceSetup } from './pace-options.ts'

/** A run with its file open and the event to go on with. */
export interface OpenRun {
  readonly setup: PaceSetup
  readonly events: readonly PaceEvent[]
  readonly index: number
  readonly file: DurableFile
}

const begin = async (path: string, options: PaceOptions, command: Command): Promise<OpenRun | Unmeasurable> => {
  const setup = paceSetup(options, command)
  if (isUnmeasurable(setup)) return setup
  const file = await beginDurable(path, traceHead(setup, headLines(options, command)))
  return isUnmeasurable(file) ? file : { setup, events: scheduleOf(setup), index: 0, file }
}

const motorOf = (text: string): SetUp => {
  const parts = takeApart(text).head.map(({ line, key, value }) => readSetUp(key, value, `line ${line}`))
  return Object.assign({}, ...parts.filter((part) => part !== null && !isUnmeasurable(part))) as SetUp
}

const agrees = (asked: readonly AskedMark[], done: readonly AskedMark[]): boolean =>
  done.length <= asked.length &&
  done.every(
    ({ command, pass, direction }, index) =>
      asked[index]?.command === command && asked[index]?.pass === pass && asked[index]?.direction === direction,
  )

/** A run goes on as it was begun: what was typed anew and is another number is not passed over. */
const changedIn = ({ commands, stepsPerRev, microsteps }: PaceOptions, setup: PaceSetup, path: string): Unmeasurable | null => {
  const typed = [['--commands', commands, setup.commands], ['--steps-per-rev', stepsPerRev, setup.stepsPerRev], ['--microsteps', microsteps, setup.microsteps]] as const
  const changed = typed.find(([, text, begun]) => text !== undefined && Number(text) !== begun)
  return changed ? unmeasurable(`the run was begun with ${changed[0]} ${changed[2]}, not ${changed[1]}`, path, `leave ${changed[0]} out, or begin a new trace file`) : null
}

const resume = async (path: string, options: PaceOptions): Promise<OpenRun | Unmeasurable> => {
  const text = await readText(path)
  if (typeof text !== 'string') return text
  const stopped = readStoppedRun(text, path)
  if (isUnmeasurable(stopped)) return stopped
  const { motor = 'unnamed motor', stepsPerRev, microsteps } = motorOf(text)
  if (stepsPerRev === undefined || microsteps === undefined)
    return unmeasurable('its head does not give steps-per-rev and microsteps', path, 'begin a new trace file')
  const setup: PaceSetup = { motor, stepsPerRev, microsteps, ...stopped.run }
  const changed = changedIn(options, setup, path)
  if (changed !== null) return changed
  const events = scheduleOf(setup)
  if (!agrees(marksOf(events), stopped.done))
    return unmeasurable(
      'its rows are not the marks of this run in order',
      path,
      'put the rows back in order, or begin a new trace file',
    )
  const file = await resumeDurable(path, Buffer.byteLength(text.slice(0, stopped.wholeLength)))
  return isUnmeasurable(file) ? file : { setup, events, index: indexAfterMarks(events, stopped.done.length), file }
}

/** Begins a run in a new trace file, or goes on with a stopped one. */
export const openRun = (path: string, options: PaceOptions, command: Command): Promise<OpenRun | Unmeasurable> =>
  options.resume ? resume(path, options) : begin(path, options, command)
