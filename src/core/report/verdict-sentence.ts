import { modeName } from '#core/decide/recommend'
import { plainNumber, valueAndInterval } from './number-text.ts'
import type { Result } from './result-schema.ts'

/** The verdict in a few words. */
export const verdictHeadline = ({ recommendation, modes }: Result): string => {
  if (recommendation.microsteps !== null) return `Trust this motor in ${modeName(recommendation.microsteps)}.`
  return modes.some(({ verdict }) => verdict === 'fails') ? 'Trust no step mode of this motor.' : 'Nothing is proven about this motor yet.'
}

const sentence = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`

/** The reason with what the headline has already said left out. */
const reason = ({ recommendation: { microsteps, why } }: Result): string => (microsteps === null ? why.replace(/^nothing is proven yet: /, '') : why.replace(`${modeName(microsteps)} hold`, 'they hold')).replace(/\.?$/, '.')

/** The verdict with its reason, one sentence: "Trust this motor in full steps: they hold; half steps fail: …". */
export const verdictSentence = (result: Result): string => `${verdictHeadline(result).slice(0, -1)}: ${reason(result)}`

/** The reason alone, as a sentence. */
export const verdictReason = (result: Result): string => sentence(reason(result))

/** How many microsteps there really are, as a sentence. */
export const effectiveSentence = ({ figures, motor }: Result): string =>
  `Of ${plainNumber(motor.microsteps)} commanded microsteps per full step, ${valueAndInterval(figures.effectiveMicrosteps)} are effective.`
