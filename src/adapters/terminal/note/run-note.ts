import { basename, dirname, relative } from 'node:path'
import type { Command } from 'commander'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { noteBlock } from '#core/report/note/note-block'
import { markerKey } from '#core/report/note/note-markers'
import { noteTemplate } from '#core/report/note/note-template'
import { placeBlock } from '#core/report/note/place-block'
import type { Result } from '#core/report/result-schema'
import { beginDurable } from '#adapters/files/durable-file'
import { editNote } from '#adapters/files/note-file'
import { readResult } from '#adapters/files/read-result'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import type { NoteOptions } from '#adapters/terminal/note-command'
import type { Shown } from '#adapters/terminal/outcome'
import { runIndex } from './run-index.ts'

/** A test is the motor in one step mode, unless it is given a name. */
const keyOf = ({ motor }: Result, name: string | undefined): string =>
  markerKey(name ?? `${motor.name} ${motor.stepsPerRev}x${motor.microsteps}`)

const place = async (note: string, resultPath: string, options: NoteOptions): Promise<Shown | Unmeasurable> => {
  const result = await readResult(resultPath)
  if (isUnmeasurable(result)) return result
  const key = keyOf(result, options.test)
  const evidence = relative(dirname(note), resultPath).replaceAll('\\', '/')
  const edited = await editNote(note, (text) => placeBlock(text, key, noteBlock(result, { evidence })))
  if (isUnmeasurable(edited)) return edited
  return {
    json: { schema: 'stepwitness/note@1', note, test: key, changed: edited.changed },
    text: `${note}: test ${key} ${edited.changed ? 'put in' : 'was up to date'}`,
  }
}

const begin = async (note: string, options: NoteOptions, command: Command): Promise<Shown | Unmeasurable> => {
  const stepsPerRev =
    options.stepsPerRev === undefined ? null : wholeOption(command, ['--steps-per-rev', options.stepsPerRev])
  const name = options.motor ?? basename(note).replace(/\.(?:md|markdown)$/i, '')
  const file = await beginDurable(note, noteTemplate({ name, stepsPerRev }), 'made')
  if (isUnmeasurable(file))
    return {
      ...file,
      remedy: file.remedy.replace('go on with it by --resume, or choose another name', 'choose another name'),
    }
  await file.close()
  return {
    json: { schema: 'stepwitness/note@1', note, test: null, changed: true },
    text: `${note}: begun; fill in what you know`,
  }
}

/** Runs `note` in one of its three ways. */
export const runNote = async (
  [note, result]: readonly (string | undefined)[],
  options: NoteOptions,
  command: Command,
): Promise<Shown | Unmeasurable> => {
  if (options.index !== undefined)
    return note === undefined
      ? runIndex(options.index, options, command)
      : wrongUsage(command, 'give --index alone, without NOTE.md')
  if (options.needs !== undefined || options.csv || options.markdown)
    return wrongUsage(command, '--needs, --csv and --markdown go with --index')
  if (note === undefined) return wrongUsage(command, 'name the note')
  if (options.new)
    return result === undefined
      ? begin(note, options, command)
      : wrongUsage(command, 'begin the note first, then put the result in')
  return result === undefined
    ? wrongUsage(command, 'name the result to put in, or ask for --new')
    : place(note, result, options)
}
