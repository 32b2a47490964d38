import { timesText } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { marksAt, settlingLabels } from '#core/report/settling-labels'
import { paragraph, section, table } from './parts.ts'

const decided = {
  command: 'Every mark carries the number of its command.',
  tally: 'A tally beside each mark says how many commands ended there.',
  order: 'There are as many marks as rest positions, so their order says which is which.',
  fit: 'Neither numbers nor tallies were given: the commands were brought to the marks by the exact least-squares fit over all ways to share them out.',
} as const

/** How commands were brought to marks, and where that could be otherwise. */
export const sectionAssignment = ({ assignment, input: { kind } }: Result): string => {
  const { commands, marks, closed, decidedBy, ambiguous, jumpsUnknown, margin, doubts } = assignment
  const sentences = [
    `${commands} commands, ${marks} marks${closed ? ', a closed turn: the last command ends on the first mark' : ''}. ${decided[decidedBy]}`,
    ...(margin === null ? [] : [`The next-best way to share them out is ${timesText(margin)} less likely.`]),
    ...(ambiguous ? [`This is not decisive. ${settlingLabels(assignment, kind)}`] : []),
    ...(jumpsUnknown ? ['Marks cannot show at which command of a merged run the shaft jumped. Figures take the jump at the first command; where the last would differ, both are given.'] : []),
  ]
  const rows = doubts.map(({ line, command, couldBe, logOdds }) => [marksAt([line], kind), String(command), String(couldBe), timesText(logOdds)])
  return section('assignment', 'Which commands belong to which mark', sentences.map(paragraph).join('') + (rows.length > 0 ? table({ caption: 'Marks in doubt', head: ['mark', 'read as command', 'could be', 'which is less likely'], rows, numeric: [1, 2] }) : ''))
}
