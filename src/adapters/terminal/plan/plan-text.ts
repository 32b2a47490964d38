import type { PlanSetup } from '#core/prepare/plan/plan-setup'
import type { TestPlan } from '#core/prepare/plan/plan-test'
import { planVerdict } from '#core/prepare/plan/plan-verdict'
import { writeNumber } from '#core/quantity/write-number'
import { durationText } from '#core/report/duration-text'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'

const listed = (title: string, lines: readonly string[], mark: (index: number) => string): string =>
  lines.length === 0
    ? ''
    : [
        title,
        ...lines.map((line, index) => folded(`${mark(index)} ${line}`, { indent: ' '.repeat(mark(index).length + 1) })),
      ].join('\n')

const spacingText = ({ spacing }: TestPlan): string =>
  spacing.largestMm > spacing.smallestMm * 1.001
    ? `${writeNumber(spacing.smallestMm, 3)} to ${writeNumber(spacing.largestMm, 3)} mm`
    : `${writeNumber(spacing.smallestMm, 3)} mm`

const verdict = (setup: PlanSetup, plan: TestPlan): string => {
  const { headline, need } = planVerdict(setup, plan)
  return `${headline}${need === '' ? '' : `; ${need}`}.`
}

const sheetText = ({ sheet, a4EndToEnd }: TestPlan['paper']): string => {
  if (a4EndToEnd !== null && a4EndToEnd > 1) return `${a4EndToEnd} A4 sheets end to end`
  return sheet === null ? 'join several sheets' : `fits ${sheet}`
}

const paperText = ({ paper }: TestPlan): string =>
  `${writeNumber(paper.widthMm, 3)} × ${writeNumber(paper.heightMm, 3)} mm (${sheetText(paper)})`

const countText = ({ outlook, marksNeeded, passesNeeded }: TestPlan): readonly (readonly string[])[] => [
  [
    'effective count to expect',
    `${writeNumber(outlook.value, 3)}, from ${writeNumber(outlook.low, 3)} to ${writeNumber(outlook.high, 3)}`,
  ],
  ...(marksNeeded === null
    ? []
    : [
        [
          'for the wanted interval',
          `${marksNeeded} marks: ${passesNeeded} ${passesNeeded === 1 ? 'pass' : 'passes'} like this`,
        ],
      ]),
]

const facts = (setup: PlanSetup, plan: TestPlan): string =>
  fittedTable(
    ['to expect', ''],
    [
      ['one microstep', `${writeNumber(plan.microstepDeg, 4)}°`],
      ['spacing of marks', spacingText(plan)],
      ['smallest readable spacing', `${writeNumber(plan.spacing.readableMm, 2)} mm`],
      ['told apart per full step', writeNumber(plan.toldApart, 3)],
      [
        'U of an increment',
        `± ${writeNumber(plan.incrementUDeg, 3)}°, ${writeNumber(plan.incrementUDeg / plan.microstepDeg, 2)} microsteps`,
      ],
      ...countText(plan),
      ['marks', String(plan.marks + setup.passes)],
      ['time', durationText(plan.timeS)],
      ['paper', paperText(plan)],
    ],
  )

const budgetText = ({ budget, markUDeg }: TestPlan): string =>
  fittedTable(
    ['standard uncertainty of a mark', 'deg', 'acts'],
    [
      ...budget.map(({ source, uDeg, kind }) => [source, writeNumber(uDeg, 2), kind]),
      ['together', writeNumber(markUDeg, 2), ''],
    ],
  )

/** The plan for a person: whether the rig is good enough first, then figures, budget, warnings, checklist and cautions. */
export const planText = (setup: PlanSetup, plan: TestPlan): string =>
  [
    folded(verdict(setup, plan)),
    facts(setup, plan),
    budgetText(plan),
    listed('Mind', plan.warnings, () => '!'),
    listed('Order of work', plan.order, (index) => `[ ] ${index + 1}.`),
    listed(
      'Cautions',
      plan.cautions.map(({ title, text }) => `${title}. ${text}`),
      () => '!',
    ),
  ]
    .filter((part) => part !== '')
    .join('\n\n')
