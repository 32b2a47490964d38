import { correctionCsv, correctionJson } from '#core/motor/correction-text'
import type { Result } from './result-schema.ts'

/** The correction table as files of its own, for a driver or firmware that accepts one: name and text; none where it was withheld. */
export const correctionFiles = ({ correction }: Result): [name: string, text: string][] => {
  if (correction.withheld !== null) return []
  return [
    ['correction.csv', correctionCsv(correction)],
    ['correction.json', correctionJson(correction)],
  ]
}
