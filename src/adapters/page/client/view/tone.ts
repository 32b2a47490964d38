import type { Result } from '#core/report/result-schema'

/** How a verdict looks: some mode holds, none does, or nothing is proven. */
export type Tone = 'good' | 'bad' | 'open'

export const toneOf = (result: Result): Tone => (result.recommendation.microsteps !== null ? 'good' : result.modes.some(({ verdict }) => verdict === 'fails') ? 'bad' : 'open')

/** A sign besides the colour. */
export const toneSigns: Readonly<Record<Tone, string>> = { good: '●', bad: '✕', open: '◐' }
