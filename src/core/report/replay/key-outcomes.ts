import type { Result } from '#core/report/result-schema'
import type { Comparison } from './compare-documents.ts'
import type { ReplayDocument } from './replay-document.ts'

const numbersOf = ({ figures, uncertainty }: Result): readonly (readonly [string, number | null])[] => [
  ...Object.entries(figures).flatMap(([key, value]) => (typeof value === 'number' || value === null ? [[`figures.${key}`, value] as const] : [])),
  ['figures.effectiveMicrosteps.value', figures.effectiveMicrosteps.value],
  ['figures.effectiveMicrosteps.low', figures.effectiveMicrosteps.low],
  ['figures.effectiveMicrosteps.high', figures.effectiveMicrosteps.high],
  ['uncertainty.markDeg', uncertainty.markDeg],
  ['uncertainty.commonDeg', uncertainty.commonDeg],
]

/** Each key figure with how it came out: same, or by how much it differs. */
export const keyOutcomes = (kept: Result, { differences }: Comparison): ReplayDocument['keyFigures'] => {
  const byPath = new Map(differences.map((each) => [each.path, each]))
  return numbersOf(kept).map(([figure, value]) => {
    const difference = byPath.get(figure)
    if (!difference) return { figure, kept: value, outcome: 'same' }
    return { figure, kept: value, outcome: difference.by === null ? `differs: now ${JSON.stringify(difference.now)}` : `differs by ${difference.by.toPrecision(3)}` }
  })
}
