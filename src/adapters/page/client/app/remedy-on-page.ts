import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { setUpLabels } from './set-up-labels.ts'

const labelOf = (key: string): string => (Object.hasOwn(setUpLabels, key) ? setUpLabels[key as keyof typeof setUpLabels] : key)

/** What only the command can be told is said to be so. */
const withCommand = (remedy: string): string => (/--[a-z]/.test(remedy) ? `${remedy} (what begins with -- is an option of the detect command, in a terminal)` : remedy)

/** The cure in the words of the page, which has fields where a command has options. */
export const remedyOnPage = ({ remedy, setUpKeys }: Unmeasurable): string =>
  setUpKeys === undefined ? withCommand(remedy) : `fill in “${setUpKeys.map(labelOf).join('” and “')}” under Motor and rig`
