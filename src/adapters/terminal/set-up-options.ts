import type { Command } from 'commander'
import { readSetUp, type SetUp } from '#core/ingest/set-up'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'

/** Options that say what the head of a trace file may say too; they win over it. */
const described: Readonly<Record<string, string>> = {
  'motor <name>': 'name of the motor',
  'steps-per-rev <S>': 'full steps per shaft revolution',
  'microsteps <N>': 'commanded microsteps per full step',
  'rig <kind>': 'pointer, arc, chord or mirror (a photo: pointer or mirror)',
  'position-unit <unit>': 'deg, arcmin, rad, mm, cm or in',
  'radius <length>': 'pointer, arc, chord: radius at the marks, such as "80 ± 0.5 mm"',
  'distance <length>': 'mirror: from the mirror to the wall',
  'foot <length>': 'mirror: where the perpendicular meets the wall, in the marks’ own coordinate (photo: from the first mark, in the direction that detect states; printed strip: from its zero)',
  'ratio <n>': '2 for a mirror on the shaft, 1 for a light source',
  'gears <list>': 'stages between motor and pointer as tooth counts, driven:driving, such as 17:8,40:10',
  'mark-uncertainty <u>': 'standard uncertainty of one mark, such as "0.1 deg" or "0.2 mm"',
  'line-width <w>': 'in its place, told apart: width of the line, such as "0.4 mm"',
  'parallax <u>': 'standard uncertainty from looking aslant at the pointer, the same way all along, such as "0.1 mm"',
  'hand <u>': 'standard uncertainty of the hand that draws, such as "0.1 mm"',
  'commands <K>': 'number of commands of the run',
  'full-step-command <k>': 'a command that stands on a full step',
  'order <word>': 'made (as the marks were made) or none (marks taken off a photo)',
  'shared-uncertainty <list>': 'what all marks share, such as "centre 0.013 deg"',
}

export const withSetUpOptions = (command: Command): Command => {
  for (const [flag, text] of Object.entries(described)) command.option(`--${flag}`, text)
  return command
}

const camel = (key: string): string => key.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase())

/** The set-up given as options, or what is wrong with one of them. */
export const setUpOf = (options: Readonly<Record<string, unknown>>): SetUp | Unmeasurable => {
  let setUp: SetUp = {}
  for (const flag of Object.keys(described)) {
    const key = flag.split(' ')[0] ?? ''
    const value = options[camel(key)]
    if (typeof value !== 'string') continue
    const part = readSetUp(key, value, `--${key}`)
    if (isUnmeasurable(part)) return part
    setUp = { ...setUp, ...part }
  }
  return setUp
}
