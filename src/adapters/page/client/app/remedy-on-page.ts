import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { photoLabels } from './photo-labels.ts'
import { setUpLabels } from './set-up-labels.ts'

const labelOf = (key: string): string => (Object.hasOwn(setUpLabels, key) ? setUpLabels[key as keyof typeof setUpLabels] : key)

/** What stands on the page in place of each option of a command, longest first. */
const fields: readonly (readonly [option: RegExp, field: string])[] = [
  [/--rig pointer/g, `“${photoLabels.rig}: marks round a shaft”`],
  [/--rig mirror/g, `“${photoLabels.rig}: a strip of marks”`],
  [/--rig/g, `“${photoLabels.rig}”`],
  [/--centre(?: x,y| \(x,y in px of the upright photo\))?/g, `“${photoLabels.centre}”`],
  [/--radius-range/g, `“${photoLabels.ring}”`],
  [/--corners/g, `“${photoLabels.corners}”`],
  [/--ignore/g, `“${photoLabels.box}”`],
  [/--scale/g, `“${photoLabels.distance}”`],
  [/--tick/g, `“${photoLabels.tick}”`],
  [/--paper/g, `“${photoLabels.paper}”`],
  [/--ink/g, `“${photoLabels.ink}”`],
  [/--marks/g, `“${photoLabels.marks}”`],
  [/--full-steps/g, '“Full steps to cover”'],
  [/with --out/g, 'by starting the bench on another folder'],
  [/position-unit/g, '“Unit of the positions”'],
  // A line of a trace's head, "# steps-per-rev: 48", stays as it is typed; words such as "radius" or "commands" are words.
  ...Object.entries(setUpLabels).filter(([key]) => key.includes('-')).map(([key, label]): readonly [RegExp, string] => [new RegExp(`(?<!# )(?:--)?\\b${key}\\b`, 'g'), `“${label}”`]),
]

/** A sentence in the words of the page, which has fields where a command has options. */
export const inFields = (text: string): string => fields.reduce((said, [option, field]) => said.replaceAll(option, field), text)

/** The cure in the words of the page. */
export const remedyOnPage = ({ remedy, setUpKeys }: Unmeasurable): string =>
  setUpKeys === undefined ? inFields(remedy) : `fill in “${setUpKeys.map(labelOf).join('” and “')}” under Motor and rig`

/** Where it is, in the words of the page. */
export const placeOnPage = ({ where }: Unmeasurable): string => where.replace(/^set-up, (.+)$/, (_, key: string) => `Motor and rig, “${labelOf(key)}”`)
