import { writeNumber } from '#core/quantity/write-number'
import type { Answer } from './requirement-checks.ts'

interface Judged {
  readonly train: string
  readonly microsteps: number
  readonly answer: Answer
  readonly resolution: number
  readonly unit: 'mm' | 'deg'
  readonly checks: readonly { readonly requirement: string; readonly answer: Answer; readonly why: string }[]
}

const modeWords = (microsteps: number): string =>
  microsteps === 1 ? 'full steps' : microsteps === 2 ? 'half steps' : `1/${microsteps} steps`

const verdictOf = (choices: readonly Judged[], microsteps: number): string | undefined =>
  choices.find((choice) => choice.microsteps === microsteps)?.checks.find(({ requirement }) => requirement === 'mode')
    ?.answer

/** Half against full stepping in one sentence, from the mode verdicts of the trace; empty when neither was judged. */
export const halfOrFull = (choices: readonly Judged[]): string => {
  const [full, half] = [verdictOf(choices, 1), verdictOf(choices, 2)]
  if (half === 'pass') return 'Half steps hold on the measured trace, so half stepping is real on this motor.'
  if (full === 'pass' && half === 'fail')
    return 'Half steps fail on the measured trace while full steps hold: stay with full steps.'
  if (full === 'pass' && half === 'not proven')
    return 'Full steps hold; half steps are not proven by this trace, so measure finer before relying on them.'
  return full === 'fail'
    ? 'Not even full steps hold on the measured trace: look for a rig fault first, then for another motor.'
    : ''
}

const onlyResolutionFails = ({ checks }: Judged): boolean =>
  checks.every(({ requirement, answer }) => answer === 'pass' || requirement === 'resolution')

const cure = (choices: readonly Judged[], resolution: number): string => {
  const near = choices.filter(onlyResolutionFails).toSorted((a, b) => a.resolution - b.resolution)[0]
  return near
    ? `The finest mode that holds, ${modeWords(near.microsteps)} on ${near.train}, reaches ${writeNumber(near.resolution, 3)} ${near.unit === 'mm' ? 'mm' : '°'}; a further reduction of ${writeNumber(near.resolution / resolution, 3)} : 1, a screw or drum finer by the same factor, or another motor would do it.`
    : ''
}

const reasons = (choices: readonly Judged[], answer: Answer): string => {
  const texts = choices.flatMap(({ checks }) =>
    checks.filter((check) => check.answer === answer).map(({ requirement, why }) => `${requirement}: ${why}`),
  )
  return [...new Set(texts)].slice(0, 3).join('; ')
}

/** The recommendation in words: what to use and why, or why nothing passes and what would. */
export const driveRecommendation = (
  choices: readonly Judged[],
  best: Judged | null,
  resolution: number | null,
): string => {
  const half = halfOrFull(choices)
  if (best)
    return [`Use ${modeWords(best.microsteps)} on ${best.train}: the coarsest mode that meets everything asked.`, half]
      .join(' ')
      .trim()
  const likely = choices
    .filter(({ answer }) => answer === 'not proven')
    .toSorted((a, b) => a.microsteps - b.microsteps || a.resolution - b.resolution)
  if (likely[0])
    return [
      `Nothing is proven yet (${reasons(likely, 'not proven')}). First to prove: ${modeWords(likely[0].microsteps)} on ${likely[0].train}.`,
      half,
    ]
      .join(' ')
      .trim()
  return [`Nothing meets it (${reasons(choices, 'fail')}).`, resolution === null ? '' : cure(choices, resolution), half]
    .filter(Boolean)
    .join(' ')
}
