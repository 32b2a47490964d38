import { plainNumber, valueAndU } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

const causes: Readonly<Record<number, string>> = { 1: 'once per turn: pivot or dial off centre', 2: 'twice per turn: paper or camera tilted' }

/** Errors of the rig that were found from cycle to cycle or over a full turn and taken off; null when there were none. */
export const sectionRigFaults = ({ rigFaults, figures }: Result): string | null => {
  if (rigFaults.removed.length === 0 && rigFaults.lengths.length === 0) return null
  const lengths = rigFaults.lengths.map(({ source, statedMm, fittedMm, uMm, contradicts }) => [source, plainNumber(statedMm, 5), valueAndU(fittedMm, 2 * uMm), contradicts ? 'contradicted by the marks' : 'within what was known'])
  const waves = rigFaults.removed.map(({ order, amplitudeDeg, standardErrorDeg, phaseDeg }) => [causes[order] ?? `${order} times per turn`, valueAndU(amplitudeDeg, 2 * standardErrorDeg), plainNumber(phaseDeg, 3)])
  const { before } = rigFaults
  const compared = before
    ? [
        ['position error, peak to peak, deg', plainNumber(before.positionErrorPeakToPeakDeg), plainNumber(figures.positionErrorPeakToPeakDeg)],
        ['position error, rms, deg', plainNumber(before.positionErrorRmsDeg), plainNumber(figures.positionErrorRmsDeg)],
        ['effective microsteps', before.effectiveMicrosteps.toFixed(3), figures.effectiveMicrosteps.value.toFixed(3)],
      ]
    : []
  return section(
    'rig',
    'Rig faults taken off',
    paragraph('The motor repeats its own pattern once per four full steps; what repeats once or twice per turn, or changes slowly from cycle to cycle, belongs to the rig. It was fitted and taken off before the figures.') +
      (waves.length > 0 ? table({ caption: 'Waves taken off', head: ['wave', 'amplitude ± 2 standard errors, deg', 'phase, deg'], rows: waves, numeric: [1, 2] }) : '') +
      (lengths.length > 0 ? table({ caption: 'Lengths of the rig, mm', head: ['length', 'as stated or assumed', 'as fitted ± 2 standard uncertainties', ''], rows: lengths, numeric: [1, 2] }) : '') +
      (compared.length > 0 ? table({ caption: 'Figures before and after', head: ['figure', 'before', 'after'], rows: compared, numeric: [1, 2] }) : ''),
  )
}
