import { stringify } from 'yaml'
import { cautionsFor } from '#core/prepare/cautions'
import { oneLine } from '#core/quantity/one-line'
import { markdownText } from './markdown-text.ts'

/** What may be known when a note is begun. */
export interface NoteBeginning {
  readonly name: string
  readonly stepsPerRev: number | null
}

/** Keys of the front matter, in order, empty until someone knows. */
const frontMatter = ({ name, stepsPerRev }: NoteBeginning): string =>
  stringify({
    part: oneLine(name),
    kind: 'stepper motor',
    'found-in': null,
    'found-on': null,
    'kept-at': null,
    frame: null,
    shaft: null,
    wires: null,
    'coil-resistance': null,
    'coil-inductance': null,
    'rated-current': null,
    'rated-voltage': null,
    'steps-per-rev': stepsPerRev,
    'holding-torque': null,
    'used-in': null,
    tags: [],
  })

const wires = [
  '| colour | terminal | coil | to the wire | resistance |',
  '| --- | --- | --- | --- | --- |',
  '|  |  |  |  |  |',
  '|  |  |  |  |  |',
  '|  |  |  |  |  |',
  '|  |  |  |  |  |',
]

/**
 * A parts note for a salvaged motor, to be filled in: YAML front matter, where it came from, photos, wires, coils, frame and shaft,
 * rated data, test evidence (blocks of measured results go to the end), verdict in the owner's words, where it may be used, cautions.
 */
export const noteTemplate = (beginning: NoteBeginning): string =>
  [
    '---',
    `${frontMatter(beginning)}---`,
    '',
    `# ${markdownText(beginning.name)}`,
    '',
    '## Where it came from',
    '',
    'Device, part of it, who took it out, when, what state it was in.',
    '',
    '## Photos',
    '',
    'Label, shaft and mounting face, wires at the plug.',
    '',
    '## Wires and coils',
    '',
    ...wires,
    '',
    'Coil resistance (measured cold, leads subtracted), inductance, how it was found out.',
    '',
    '## Frame and shaft',
    '',
    'Flange, hole spacing, body length, shaft diameter and length, pinion teeth.',
    '',
    '## Rated data',
    '',
    'What the label says, word for word; "none" is an answer too.',
    '',
    '## Verdict and use',
    '',
    'What it is good for, what it must not be used for, in which machine it went.',
    '',
    '## Cautions',
    '',
    ...cautionsFor('any').map(({ title, text }) => `- **${title}.** ${text}`),
    '',
    '## Test evidence',
    '',
  ].join('\n')
