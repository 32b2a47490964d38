import { oneLine } from '#core/quantity/one-line'
import type { Difference } from './compare-documents.ts'
import type { ReplayDocument } from './replay-document.ts'

const shown = (value: unknown): string => oneLine(JSON.stringify(value) ?? 'nothing').slice(0, 60)

const differenceLine = ({ path, kept, now, by }: Difference): string => `  ${path}: was ${shown(kept)}, is ${shown(now)}${by === null ? '' : ` (${by > 0 ? '+' : ''}${by.toPrecision(3)})`}`

/** How many differences a person is shown; the document has all. */
const most = 20

const listed = (differences: readonly Difference[]): string[] => [
  ...differences.slice(0, most).map(differenceLine),
  ...(differences.length > most ? [`  … and ${differences.length - most} more; --json lists all`] : []),
]

const verdictOf = ({ same, files, figures, photo }: ReplayDocument): string => {
  if (same) return 'The same: every figure and every file comes out as it is kept.'
  const found = [
    ...(files.length > 0 ? [`${files.length} ${files.length === 1 ? 'file is' : 'files are'} not as written`] : []),
    ...(figures.differences.length > 0 ? [`${figures.differences.length} of ${figures.values} values differ`] : []),
    ...((photo?.comparison?.differences.length ?? 0) > 0 ? ['the photo gives other marks'] : []),
  ]
  return `Not the same: ${found.join('; ')}.`
}

const elsewhere = ({ madeBy, replayedBy, tolerance }: ReplayDocument): string[] =>
  tolerance === 0
    ? ['Same version and platform: compared bit for bit.']
    : [`Made by version ${oneLine(madeBy.version)} on Node ${oneLine(madeBy.platform.node)}, ${oneLine(madeBy.platform.os)} ${oneLine(madeBy.platform.arch)}; replayed by ${replayedBy.version} on Node ${replayedBy.platform.node}, ${replayedBy.platform.os} ${replayedBy.platform.arch}: compared within ${tolerance} of each value.`]

/** What a replay found, for a person: verdict, files, key figures, what differs. */
export const replayText = (document: ReplayDocument): string => {
  const { files, filesChecked, figures, photo, keyFigures } = document
  const width = Math.max(...keyFigures.map(({ figure }) => figure.length))
  return [
    verdictOf(document),
    '',
    ...elsewhere(document),
    `Files: ${filesChecked} checked${files.length === 0 ? ', all as written' : ':'}`,
    ...files.map(({ file, what }) => `  ${oneLine(file)}: ${what}`),
    ...(photo ? [`Photo: ${oneLine(photo.text)}`, ...listed(photo.comparison?.differences ?? [])] : []),
    `Figures: ${figures.values} values computed again`,
    ...keyFigures.map(({ figure, kept, outcome }) => `  ${figure.padEnd(width)}  ${kept === null ? 'not known' : kept.toPrecision(6)}  ${outcome}`),
    ...(figures.differences.length > 0 ? ['Differing:', ...listed(figures.differences)] : []),
  ].join('\n')
}
