import type { WireFindings } from '#core/prepare/identify/identify-wires'
import type { LeverTorque } from '#core/prepare/identify/lever-torque'
import type { SpeedLadder } from '#core/prepare/identify/speed-ladder'
import { type StepsFound, shareText } from '#core/prepare/identify/steps-per-rev'
import type { TorqueSheet } from '#core/prepare/identify/torque-sheet'
import { wireVerdict } from '#core/prepare/identify/winding-words'
import { stillOpen, wiringChoices } from '#core/prepare/identify/wiring-choices'
import { writeNumber } from '#core/quantity/write-number'
import { markdownText, tableRow } from './markdown-text.ts'

/** What `identify` can find out about a motor. */
export type Identified = WireFindings | StepsFound | TorqueSheet | SpeedLadder

const rule = (columns: number): string => tableRow(Array.from({ length: columns }, () => '---'))

const wireLines = (found: WireFindings): readonly string[] => {
  const [only] = found.fitting
  const verdict = markdownText(wireVerdict(found))
  if (!only || found.fitting.length > 1) return [verdict]
  const open = stillOpen(only.winding)
  const choices = wiringChoices(only.winding, only.halfOhm)
  return [
    verdict,
    '',
    tableRow(['wiring', 'how', 'phase Ω', 'current', 'torque', 'inductance', 'means']),
    rule(7),
    ...choices.map((choice) =>
      tableRow([
        choice.name,
        markdownText(choice.how),
        choice.phaseOhm === null ? '–' : writeNumber(choice.phaseOhm, 3),
        `× ${writeNumber(choice.current, 3)}`,
        `× ${writeNumber(choice.torque, 3)}`,
        `× ${writeNumber(choice.inductance, 3)}`,
        choice.consequence,
      ]),
    ),
    ...(open === '' ? [] : ['', open]),
  ]
}

const stepLines = ({ verdict, stepsPerRev, u, families }: StepsFound): readonly string[] => [
  verdict,
  '',
  `Counted ${writeNumber(stepsPerRev, 4)} ± ${writeNumber(2 * u, 2)} full steps per turn; ${families
    .slice(0, 3)
    .map((family) => `${family.stepsPerRev}: ${shareText(family.share)}`)
    .join(', ')}.`,
]

const torqueRow = (name: string, torque: LeverTorque | null): readonly string[] =>
  torque === null
    ? []
    : [tableRow([name, `${writeNumber(torque.torqueNm * 1000, 3)} ± ${writeNumber(2 * torque.uNm * 1000, 2)} mN·m`])]

const torqueLines = ({ holding, detent, friction, remarks }: TorqueSheet): readonly string[] => [
  tableRow(['torque, lever and weight', 'value ± U (k = 2)']),
  rule(2),
  ...torqueRow('holding', holding),
  ...torqueRow('detent', detent),
  ...torqueRow('friction', friction),
  ...remarks.flatMap((remark) => ['', remark]),
]

const ladderLines = ({ highestSafe, lowestLost, next, steps, remarks }: SpeedLadder): readonly string[] => [
  `Highest rate with no lost step: ${highestSafe === null ? 'none yet' : `${writeNumber(highestSafe, 4)} full steps/s`}${lowestLost === null ? '' : `; lost steps at ${writeNumber(lowestLost, 4)}`}. Next to try: ${writeNumber(next, 3)}.`,
  '',
  tableRow(['full steps/s', 'off by, full steps', 'outcome']),
  rule(3),
  ...steps.map(({ rate, offsetSteps, outcome, cycles }) =>
    tableRow([writeNumber(rate, 4), writeNumber(offsetSteps, 3), cycles > 0 ? `lost ${cycles * 4} steps` : outcome]),
  ),
  ...remarks.flatMap((remark) => ['', remark]),
]

const titles = { wires: 'Wires and coils', steps: 'Steps per turn', torque: 'Torque', ladder: 'Speed ladder' } as const

/** One finding of `identify` as Markdown lines for a block of a note, without markers. */
export const identifyBlock = (found: Identified, motor: string): readonly string[] => {
  const head = [`**${titles[found.kind]} of ${markdownText(motor)}**`, '']
  switch (found.kind) {
    case 'wires':
      return [...head, ...wireLines(found)]
    case 'steps':
      return [...head, ...stepLines(found)]
    case 'torque':
      return [...head, ...torqueLines(found)]
    case 'ladder':
      return [...head, ...ladderLines(found)]
  }
}
