import { plainNumber } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

const freedom = (degrees: number | null): string => (degrees === null ? 'no limit' : plainNumber(degrees, 3))

/** The uncertainty budget, contribution by contribution. */
export const sectionUncertainty = ({ uncertainty }: Result): string => {
  const { contributions, markDeg, commonDeg, coverageFactor, incrementScale, coverageProbability, degreesOfFreedom, resolvablePerFullStep } = uncertainty
  const total = Math.hypot(markDeg, commonDeg)
  const rows = contributions.map(({ source, uDeg, kind, degreesOfFreedom, note }) => [{ text: source, remark: note }, kind === 'mark' ? 'each mark its own' : 'shared by neighbours', plainNumber(uDeg, 2), total > 0 ? plainNumber((uDeg / total) ** 2 * 100, 2) : '–', freedom(degreesOfFreedom)])
  const sums = [
    ['all of each mark', 'stays in increments', plainNumber(markDeg, 2), '', freedom(degreesOfFreedom)],
    ['all shared', 'cancels in increments', plainNumber(commonDeg, 2), '', ''],
  ]
  const told = resolvablePerFullStep === null ? '' : ` Two marks that stand 2u apart are told apart: about ${plainNumber(resolvablePerFullStep, 2)} positions per full step.`
  const scaled = incrementScale > 0 ? ` What is shared cancels in increments, but the lengths of the rig scale them: ${plainNumber(100 * incrementScale, 2)} % of each (standard uncertainty).` : ''
  return section(
    'uncertainty',
    'Uncertainty budget',
    paragraph(`Standard uncertainties of an angle at the shaft, added in quadrature (JCGM 100). Expanded ones use the coverage factor ${plainNumber(coverageFactor, 3)} (coverage probability about ${plainNumber(coverageProbability * 100, 2)} %).${told}${scaled}`) +
      table({ caption: 'Contributions', head: ['source', 'kind', 'u, deg', 'share of variance, %', 'degrees of freedom'], rows: [...rows, ...sums], numeric: [2, 3, 4], rowClass: [...rows.map(() => ''), 'sum', 'sum'] }),
  )
}
