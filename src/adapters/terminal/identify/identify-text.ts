import { cautions } from '#core/prepare/cautions'
import type { WireFindings } from '#core/prepare/identify/identify-wires'
import type { LeverTorque } from '#core/prepare/identify/lever-torque'
import type { SpeedLadder } from '#core/prepare/identify/speed-ladder'
import { type StepsFound, shareText } from '#core/prepare/identify/steps-per-rev'
import type { TorqueSheet } from '#core/prepare/identify/torque-sheet'
import { windingWords, wireVerdict } from '#core/prepare/identify/winding-words'
import { stillOpen, type WiringChoice, wiringChoices } from '#core/prepare/identify/wiring-choices'
import { writeNumber } from '#core/quantity/write-number'
import type { Identified } from '#core/report/note/identify-block'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'

const currentCell = ({ current }: WiringChoice, rated: number | null): string =>
  rated === null ? `× ${writeNumber(current, 3)}` : `${writeNumber(rated * current, 3)} A`

const choiceTable = (choices: readonly WiringChoice[], rated: number | null): string =>
  fittedTable(
    ['wiring', 'phase ohm', 'current', 'torque', 'inductance'],
    choices.map((choice) => [
      choice.name,
      choice.phaseOhm === null ? '–' : writeNumber(choice.phaseOhm, 3),
      currentCell(choice, rated),
      `× ${writeNumber(choice.torque, 3)}`,
      `× ${writeNumber(choice.inductance, 3)}`,
    ]),
  )

const wiresText = (found: WireFindings, rated: number | null): string => {
  const [only] = found.fitting
  const verdict = folded(wireVerdict(found))
  if (!only || found.fitting.length > 1)
    return [
      verdict,
      ...found.fitting.slice(0, 6).map(({ winding }) => folded(`- ${windingWords(winding)}`, { indent: '  ' })),
    ].join('\n')
  const choices = wiringChoices(only.winding, only.halfOhm)
  const open = stillOpen(only.winding)
  return [
    verdict,
    '',
    choiceTable(choices, rated),
    '',
    ...choices.map(({ name, how, consequence }) =>
      folded(`${name}: ${how}. ${consequence[0]?.toUpperCase()}${consequence.slice(1)}.`, { indent: '  ' }),
    ),
    ...(open === '' ? [] : ['', folded(open)]),
    '',
    folded(
      cautions
        .filter(({ key }) => key === 'unplug')
        .map(({ title, text }) => `! ${title}. ${text}`)
        .join(' '),
      { indent: '  ' },
    ),
  ].join('\n')
}

const stepsText = ({ verdict, stepsPerRev, u, families }: StepsFound): string =>
  [
    folded(verdict),
    folded(`Counted ${writeNumber(stepsPerRev, 4)} ± ${writeNumber(2 * u, 2)} full steps per turn.`),
    '',
    fittedTable(
      ['steps per turn', 'kind', 'how sure', 'off by'],
      families
        .slice(0, 4)
        .map((family) => [
          String(family.stepsPerRev),
          family.what,
          shareText(family.share),
          `${writeNumber(Math.abs(family.off), 2)} u`,
        ]),
    ),
  ].join('\n')

const torqueRow = (name: string, torque: LeverTorque | null): readonly (readonly string[])[] =>
  torque === null
    ? []
    : [
        [
          name,
          `${writeNumber(torque.torqueNm * 1000, 3)}`,
          `± ${writeNumber(2 * torque.uNm * 1000, 2)}`,
          torque.contributions.map(({ source, uNm }) => `${source} ${writeNumber(uNm * 1000, 2)}`).join('; '),
        ],
      ]

const torqueText = ({ holding, detent, friction, remarks }: TorqueSheet): string => {
  const rows = [...torqueRow('holding', holding), ...torqueRow('detent', detent), ...torqueRow('friction', friction)]
  return [
    fittedTable(
      ['torque', 'mN·m', 'U (k = 2)'],
      rows.map((row) => row.slice(0, 3)),
    ),
    '',
    ...rows.map((row) => folded(`u of ${row[0]}: ${row[3]} mN·m`, { indent: '  ' })),
    ...remarks.map((remark) => folded(remark)),
  ].join('\n')
}

const ladderText = ({ highestSafe, lowestLost, next, steps, remarks }: SpeedLadder): string =>
  [
    folded(
      `Highest rate with no lost step: ${highestSafe === null ? 'none yet' : `${writeNumber(highestSafe, 4)} full steps/s`}${lowestLost === null ? '' : `; lost steps at ${writeNumber(lowestLost, 4)}`}. Next to try: ${writeNumber(next, 3)}.`,
    ),
    '',
    fittedTable(
      ['full steps/s', 'off by', 'outcome'],
      steps.map(({ rate, offsetSteps, outcome, cycles }) => [
        writeNumber(rate, 4),
        writeNumber(offsetSteps, 3),
        cycles > 0 ? `lost ${cycles * 4} steps` : outcome,
      ]),
    ),
    ...remarks.map((remark) => folded(remark)),
  ].join('\n')

/** One finding for a person, the conclusion first. */
export const identifyText = (found: Identified, ratedCurrent: number | null): string => {
  switch (found.kind) {
    case 'wires':
      return wiresText(found, ratedCurrent)
    case 'steps':
      return stepsText(found)
    case 'torque':
      return torqueText(found)
    case 'ladder':
      return ladderText(found)
  }
}
