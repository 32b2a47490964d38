import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { type Losses, lossless } from './drive-train.ts'

const readEfficiency = (text: string, where: string): number | Unmeasurable => {
  const [, digits = '', percent = ''] = /^(\d+(?:\.\d+)?)\s*(%?)$/.exec(text.trim()) ?? []
  const value = Number(digits) / (percent ? 100 : 1)
  return digits !== '' && value > 0 && value <= 1
    ? value
    : unmeasurable(`"${text}" is not an efficiency`, where, 'give a share such as 0.9 or 90 %, above 0 and at most 1')
}

const readers = (play: 'angle' | 'length') =>
  ({
    backlash: (text: string, where: string) => readQuantity(text, play, where),
    efficiency: readEfficiency,
    inertia: (text: string, where: string) => readQuantity(text, 'inertia', where),
  }) as const

const targets = { backlash: 'backlash', efficiency: 'efficiency', inertia: 'inertiaKgM2' } as const

/**
 * What a stage says about its losses after its own numbers: "backlash 0.5 deg efficiency 90 % inertia 12 g·cm²", each optional.
 * @param words alternating name and value, as split from the clause
 * @param play the measure its backlash is given in
 */
export const readLosses = (
  words: readonly string[],
  play: 'angle' | 'length',
  where: string,
): Losses | Unmeasurable => {
  const losses = { ...lossless }
  for (let index = 0; index + 1 < words.length; index += 2) {
    const name = words[index] as keyof typeof targets
    const value = readers(play)[name](words[index + 1] ?? '', where)
    if (isUnmeasurable(value)) return value
    if (value < 0) return unmeasurable(`${name} is negative`, where, `give a ${name} of zero or more`)
    losses[targets[name]] = value
  }
  return losses
}
