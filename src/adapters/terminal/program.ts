import { Command } from 'commander'
import { toolVersion } from '#core/report/tool-version'
import { addBench } from './bench-command.ts'
import { addCompare } from './compare-command.ts'
import { addCompletion } from './completion-command.ts'
import { addDetect } from './detect-command.ts'
import { exampleText } from './examples.ts'
import { addIdentify } from './identify-command.ts'
import { addMeasure } from './measure-command.ts'
import { addNote } from './note-command.ts'
import { addPace } from './pace-command.ts'
import { addPlan } from './plan-command.ts'
import { addReplay } from './replay-command.ts'
import { addSheet } from './sheet-command.ts'
import { addTravel } from './travel-command.ts'

const description = `Says which microsteps of a salvaged stepper motor are real, from marks made at every rest position.
The job in order: identify → plan → sheet → pace → detect or type → measure → travel, compare → note; replay checks evidence.`

const parts = { identify: addIdentify, plan: addPlan, sheet: addSheet, pace: addPace, detect: addDetect, measure: addMeasure, travel: addTravel, compare: addCompare, note: addNote, replay: addReplay, bench: addBench }

/**
 * The command with all its parts, in the order a person does the job.
 * @param asked name of the one part that will be run; help and completion need them all, as any other word does
 */
export const program = (asked?: string): Command => {
  const command = new Command('stepwitness').description(description).version(toolVersion).exitOverride(asWrongUsage).showHelpAfterError('stepwitness --help lists the commands.')
  const wanted = Object.entries(parts).find(([name]) => name === asked)
  for (const add of wanted ? [wanted[1]] : [...Object.values(parts), addCompletion]) add(command)
  for (const each of command.commands) each.exitOverride(asWrongUsage).showHelpAfterError(`stepwitness ${each.name()} --help lists the options.`).addHelpText('after', exampleText(each.name()))
  return command
}

/** Help and version end well; everything else that stops commander is wrong usage. */
const asWrongUsage = ({ exitCode }: { readonly exitCode: number }): never => process.exit(exitCode === 0 ? 0 : 2)
