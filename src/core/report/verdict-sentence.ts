import { modeName } from '#core/decide/recommend'
import { plainNumber, valueAndInterval } from './number-text.ts'
import type { Result } from './result-schema.ts'

/** The verdict in a few words. */
export const verdictHeadline = ({ recommendation, modes }: Result): string => {
  if (recommendation.microsteps !== null) return `Trust this motor in ${modeName(recommendation.microsteps)}.`
  return modes.some(({ verdict }) => verdict === 'fails') ? 'Trust no step mode of this motor.' : 'Nothing is proven about this motor yet.'
}

const sentence = (text: string): string => (text === '' ? '' : `${text[0]?.toUpperCase()}${text.slice(1).replace(/\.?$/, '.')}`)

/** The verdict with its reason, one sentence: "Trust this motor in full steps: …". */
export const verdictSentence = (result: Result): string => `${verdictHeadline(result).slice(0, -1)}: ${result.recommendation.why.replace(/\.?$/, '.')}`

/** The reason alone, as a sentence. */
export const verdictReason = ({ recommendation }: Result): string => sentence(recommendation.why)

/** How many microsteps there really are, as a sentence. */
export const effectiveSentence = ({ figures, motor }: Result): string =>
  `Of ${plainNumber(motor.microsteps)} commanded microsteps per full step, ${valueAndInterval(figures.effectiveMicrosteps)} are effective.`
