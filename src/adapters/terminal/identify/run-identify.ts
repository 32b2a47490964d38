import type { Command } from 'commander'
import { identifyWires } from '#core/prepare/identify/identify-wires'
import { type LeverWeight, readLeverWeight } from '#core/prepare/identify/lever-torque'
import { speedLadder } from '#core/prepare/identify/speed-ladder'
import { splitReadings } from '#core/prepare/identify/split-readings'
import { stepsFromTurn } from '#core/prepare/identify/steps-per-rev'
import { torqueSheet } from '#core/prepare/identify/torque-sheet'
import { readWireReadings } from '#core/prepare/identify/wire-readings'
import { wiringChoices } from '#core/prepare/identify/wiring-choices'
import { oneLine } from '#core/quantity/one-line'
import { readLoneNumber } from '#core/quantity/read-number'
import { readStated } from '#core/quantity/read-quantity'
import { isUnmeasurable, sentenceOf, type Unmeasurable } from '#core/quantity/unmeasurable'
import { type Identified, identifyBlock } from '#core/report/note/identify-block'
import { markerKey } from '#core/report/note/note-markers'
import { placeBlock } from '#core/report/note/place-block'
import { editNote } from '#adapters/files/note-file'
import type { IdentifyOptions } from '#adapters/terminal/identify-command'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import type { Shown } from '#adapters/terminal/outcome'
import { quantityOption } from '#adapters/terminal/quantity-option'
import { identifyText } from './identify-text.ts'

const orUsage = <T>(command: Command, value: T | Unmeasurable): T =>
  isUnmeasurable(value) ? wrongUsage(command, sentenceOf(value)) : value

const wiresFrom = (options: IdentifyOptions, command: Command): Identified | Unmeasurable | null => {
  if (options.ohm === undefined) return null
  const lead = quantityOption(command, ['--lead', options.lead], 'resistance') ?? 0
  const readings = orUsage(command, readWireReadings(options.ohm, lead, '--ohm'))
  const named = options.wires
    ?.split(/[,;]/)
    .map(oneLine)
    .filter((wire) => wire !== '')
  const unknown = named && readings.flatMap(({ wires }) => wires).find((wire) => !named.includes(wire))
  if (unknown !== undefined) return wrongUsage(command, `--ohm names the wire "${unknown}", which --wires does not`)
  return identifyWires(readings, named && [...new Set(named)])
}

const stepsFrom = (options: IdentifyOptions, command: Command): Identified | Unmeasurable | null => {
  if (options.commands === undefined && options.turned === undefined) return null
  if (options.turned === undefined) return wrongUsage(command, '--commands needs --turned')
  const turned = orUsage(command, readStated(options.turned, 'angle', '--turned'))
  const commands = wholeOption(command, ['--commands', options.commands])
  const microsteps = wholeOption(command, ['--microsteps', options.microsteps], 1)
  // An angle without an uncertainty was judged by eye: 5°, common practice, no source.
  return stepsFromTurn({ commands, microsteps, turnedDeg: turned.value, uDeg: turned.u || 5 })
}

const torqueFrom = (options: IdentifyOptions, command: Command): Identified | null => {
  const weight = (name: 'holding' | 'detent' | 'friction'): LeverWeight | null => {
    const text = options[name]
    return text === undefined ? null : orUsage(command, readLeverWeight(text, `--${name}`))
  }
  const weights = { holding: weight('holding'), detent: weight('detent'), friction: weight('friction') }
  return weights.holding || weights.detent || weights.friction ? torqueSheet(weights) : null
}

const ladderFrom = (options: IdentifyOptions, command: Command): Identified | Unmeasurable | null => {
  if (options.ladder === undefined) return null
  const runs = splitReadings(options.ladder).map((run) => {
    const [rate, offset] = run.split(':').map((text) => readLoneNumber(text) ?? Number.NaN)
    return { rate: rate ?? Number.NaN, offsetSteps: offset ?? Number.NaN }
  })
  return orUsage(command, speedLadder(runs))
}

const intoNote = async (
  found: readonly Identified[],
  { note, motor }: IdentifyOptions,
): Promise<{ readonly changed: boolean } | Unmeasurable | null> => {
  if (note === undefined) return null
  return editNote(note, (text) =>
    found.reduce<string | Unmeasurable>(
      (sofar, each) =>
        typeof sofar === 'string'
          ? placeBlock(sofar, markerKey(`${motor} ${each.kind}`), identifyBlock(each, motor))
          : sofar,
      text,
    ),
  )
}

const withChoices = (found: Identified) => {
  if (found.kind !== 'wires') return found
  const [only] = found.fitting
  return { ...found, choices: only && found.fitting.length === 1 ? wiringChoices(only.winding, only.halfOhm) : [] }
}

/** Runs `identify` on whatever was measured; each part stands by itself. */
export const runIdentify = async (options: IdentifyOptions, command: Command): Promise<Shown | Unmeasurable> => {
  const parts = [
    wiresFrom(options, command),
    stepsFrom(options, command),
    torqueFrom(options, command),
    ladderFrom(options, command),
  ]
  const wrong = parts.find(isUnmeasurable)
  if (wrong) return wrong
  const found = parts.filter((part): part is Identified => part !== null && !isUnmeasurable(part))
  if (found.length === 0)
    return wrongUsage(
      command,
      'say what was measured: --ohm, --commands with --turned, --holding, --detent, --friction or --ladder',
    )
  const noted = await intoNote(found, options)
  if (isUnmeasurable(noted)) return noted
  const current = quantityOption(command, ['--rated-current', options.ratedCurrent], 'current')
  return {
    json: {
      schema: 'stepwitness/identify@1',
      motor: options.motor,
      found: found.map(withChoices),
      note: options.note ?? null,
    },
    text: [
      ...found.map((each) => identifyText(each, current)),
      ...(noted ? [`${options.note}: ${noted.changed ? 'put in' : 'was up to date'}`] : []),
    ].join('\n\n'),
  }
}
