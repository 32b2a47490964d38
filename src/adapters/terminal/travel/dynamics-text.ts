import { type Coil, coilFigures, windingUses } from '#core/decide/drive/coil'
import type { Dynamics } from '#core/decide/drive/dynamics-of'
import { writeNumber } from '#core/quantity/write-number'
import { quantityIn } from '#core/quantity/write-quantity'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'

/** Units of what is shown. */
export interface ShownUnits {
  /** Of the carriage's travel. */
  readonly length: string
  readonly perMm: number
  readonly torque: string
}

const torqueIn = (newtonMetres: number, unit: string): string =>
  writeNumber(quantityIn(newtonMetres, 'torque', unit), 3)

const gramCm2 = (kgM2: number): string => writeNumber(kgM2 * 1e7, 3)

const torqueTable = ({ torques }: Dynamics, unit: string): string =>
  fittedTable(
    ['torque into', `steady ${unit}`, `accelerating ${unit}`, 'rev/min'],
    torques.map(({ stage, steadyNm, acceleratingNm, revPerMin }) => [
      stage,
      torqueIn(steadyNm, unit),
      torqueIn(acceleratingNm, unit),
      writeNumber(revPerMin, 3),
    ]),
  )

const modeTable = ({ modes }: Dynamics, unit: string): string =>
  fittedTable(
    ['step mode', `torque behind one step ${unit}`, 'commands before it moves'],
    modes.map(({ microsteps, perMicrostepNm, commandsBeforeMotion }) => [
      microsteps === 1 ? 'full' : `1/${microsteps}`,
      torqueIn(perMicrostepNm, unit),
      Number.isFinite(commandsBeforeMotion) ? String(commandsBeforeMotion) : 'never',
    ]),
  )

const marginLine = ({ torqueMargin, pullOutNm, fullStepRate }: Dynamics, unit: string): string => {
  const at = `${writeNumber(fullStepRate, 4)} full steps per second`
  if (torqueMargin === null)
    return `wanted: ${at}; no pull-out torque is known there, so whether the motor keeps up is not proven`
  const have = pullOutNm === null ? 'holding torque' : `${torqueIn(pullOutNm, unit)} ${unit} of pull-out torque`
  return `wanted: ${at}; ${have}, ${writeNumber(torqueMargin, 3)} times what the load asks`
}

const springLine = ({ stiffness, lag }: Dynamics, { length, perMm }: ShownUnits): string =>
  `magnetic spring ${writeNumber(stiffness ?? 0, 3)} N·m/rad; behind its place under the steady load: ${lag === null ? 'it slips' : `${writeNumber(lag * perMm, 3)} ${length}`}`

const speedLine = ({ highestSpeed }: Dynamics, { length, perMm }: ShownUnits): readonly string[] =>
  highestSpeed === null
    ? []
    : [folded(`the pull-out curve covers the load up to ${writeNumber(highestSpeed * perMm, 3)} ${length}/s`)]

/** Inertia, torque at each stage, torque per microstep and lag, for a person. */
export const dynamicsText = (dynamics: Dynamics, units: ShownUnits): string => {
  const { inertia, inertiaKgM2, stiffness } = dynamics
  const parts = inertia.map(({ source, kgM2 }) => `${source} ${gramCm2(kgM2)}`).join(', ')
  return [
    folded(`inertia at the motor ${gramCm2(inertiaKgM2)} g·cm²${parts ? ` (${parts}, rotor the rest)` : ''}`),
    folded(marginLine(dynamics, units.torque)),
    ...speedLine(dynamics, units),
    '',
    torqueTable(dynamics, units.torque),
    ...(stiffness === null ? [] : ['', modeTable(dynamics, units.torque), folded(springLine(dynamics, units))]),
  ].join('\n')
}

/** How a coil with a centre tap could be used instead, the given data being those of one half; empty without a resistance. */
const windingText = ({ resistanceOhm, inductanceH, currentA }: Coil): readonly string[] => {
  if (resistanceOhm === null) return []
  const rows = windingUses.map(({ use, resistance, inductance, current, torque }) => [
    { half: 'half (unipolar)', series: 'both in series', parallel: 'both in parallel' }[use],
    writeNumber(resistanceOhm * resistance, 3),
    inductanceH === null ? '–' : writeNumber(inductanceH * inductance * 1000, 3),
    currentA === null ? '–' : writeNumber(currentA * current, 3),
    `× ${writeNumber(torque, 3)}`,
  ])
  return [
    '',
    folded('if these are the data of one half of a tapped coil, at equal heat:'),
    '',
    fittedTable(['winding', 'ohm', 'mH', 'A', 'torque'], rows),
  ]
}

/** What the coil data say, for a person; empty when nothing was given. */
export const coilText = (coil: Coil): string => {
  const { ratedVoltage, chopperVoltage, timeConstant, cornerStepRate, heatW } = coilFigures(coil)
  const line = (name: string, value: number | null, unit: string): readonly string[] =>
    value === null ? [] : [folded(`- ${name}: ${writeNumber(value, 3)} ${unit}`, { indent: '  ' })]
  const lines = [
    ...line('voltage for rated current', ratedVoltage, 'V'),
    ...line('chopper supply, at most (32·√mH, common practice)', chopperVoltage, 'V'),
    ...line('time constant L/R', timeConstant === null ? null : timeConstant * 1000, 'ms'),
    ...line('corner of a plain voltage drive', cornerStepRate, 'full steps/s'),
    ...line('heat standing still, both coils', heatW, 'W'),
  ]
  return lines.length === 0 ? '' : ['coil', ...lines, ...windingText(coil)].join('\n')
}
