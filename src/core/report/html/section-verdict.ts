import { plainNumber } from '#core/report/number-text'
import { effectiveSentence, verdictHeadline, verdictReason } from '#core/report/verdict-sentence'
import type { Result } from '#core/report/result-schema'
import { escapeHtml } from './escape.ts'

const rigWords: Readonly<Record<string, string>> = { pointer: 'pointer over a dial', arc: 'distances along an arc', chord: 'chords from mark to mark', mirror: 'mirror and light spot on a wall' }

/** What was measured, in one line. */
const measured = ({ motor, assignment, settings, input }: Result): string =>
  `${motor.stepsPerRev} full steps per turn, ${motor.microsteps} microsteps per full step, ${assignment.commands} commands on ${assignment.marks} marks ${input.kind === 'photo' ? 'read from a photo' : 'typed in'}, ${rigWords[settings.rig] ?? settings.rig}.`

/** The head of the report: the verdict, its reason, how many microsteps there really are. */
export const sectionVerdict = (result: Result): string => {
  const held = result.recommendation.microsteps !== null
  return `<header class="verdict ${held ? 'held' : 'open'}"><p class="motor">${escapeHtml(result.motor.name)}</p><h1>${escapeHtml(verdictHeadline(result))}</h1><p class="why">${escapeHtml(verdictReason(result))}</p><p>${escapeHtml(effectiveSentence(result))}${result.uncertainty.resolvablePerFullStep === null ? '' : ` The rig tells apart about ${escapeHtml(plainNumber(result.uncertainty.resolvablePerFullStep, 2))} positions per full step.`}</p><p class="quiet">${escapeHtml(measured(result))}</p></header>`
}
