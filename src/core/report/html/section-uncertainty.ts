import { plainNumber } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

/** The uncertainty budget, contribution by contribution. */
export const sectionUncertainty = ({ uncertainty }: Result): string => {
  const { contributions, markDeg, commonDeg, coverageFactor, resolvablePerFullStep } = uncertainty
  const total = Math.hypot(markDeg, commonDeg)
  const rows = contributions.map(({ source, uDeg, kind }) => [source, kind === 'mark' ? 'each mark its own' : 'shared by neighbours', plainNumber(uDeg, 2), total > 0 ? plainNumber((uDeg / total) ** 2 * 100, 2) : '–'])
  const sums = [
    ['all of each mark', 'stays in increments', plainNumber(markDeg, 2), ''],
    ['all shared', 'cancels in increments', plainNumber(commonDeg, 2), ''],
  ]
  const told = resolvablePerFullStep === null ? '' : ` Two marks that stand 2u apart are told apart: about ${plainNumber(resolvablePerFullStep, 2)} positions per full step.`
  return section(
    'uncertainty',
    'Uncertainty budget',
    paragraph(`Standard uncertainties of an angle at the shaft, added in quadrature (JCGM 100). Expanded ones use the coverage factor ${coverageFactor}.${told}`) +
      table({ caption: 'Contributions', head: ['source', 'kind', 'u, deg', 'share of variance, %'], rows: [...rows, ...sums], numeric: [2, 3], rowClass: [...rows.map(() => ''), 'sum', 'sum'] }),
  )
}
