import type { CoilFigures } from '#core/decide/drive/coil'
import type { Dynamics } from '#core/decide/drive/dynamics-of'
import { writeNumber } from '#core/quantity/write-number'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'

const milli = (newtonMetres: number): string => writeNumber(newtonMetres * 1000, 3)

const gramCm2 = (kgM2: number): string => writeNumber(kgM2 * 1e7, 3)

const torqueTable = ({ torques }: Dynamics): string =>
  fittedTable(
    ['torque into', 'steady mN·m', 'accelerating mN·m', 'rev/min'],
    torques.map(({ stage, steadyNm, acceleratingNm, revPerMin }) => [stage, milli(steadyNm), milli(acceleratingNm), writeNumber(revPerMin, 3)]),
  )

const modeTable = ({ modes }: Dynamics): string =>
  fittedTable(
    ['step mode', 'torque behind one step mN·m', 'commands before it moves'],
    modes.map(({ microsteps, perMicrostepNm, commandsBeforeMotion }) => [
      microsteps === 1 ? 'full' : `1/${microsteps}`,
      milli(perMicrostepNm),
      Number.isFinite(commandsBeforeMotion) ? String(commandsBeforeMotion) : 'never',
    ]),
  )

const marginLine = ({ torqueMargin, pullOutNm, fullStepRate }: Dynamics): string => {
  const at = `${writeNumber(fullStepRate, 4)} full steps per second`
  if (torqueMargin === null) return `wanted: ${at}; no pull-out torque is known there, so whether the motor keeps up is not proven`
  const have = pullOutNm === null ? 'holding torque' : `${milli(pullOutNm)} mN·m of pull-out torque`
  return `wanted: ${at}; ${have}, ${writeNumber(torqueMargin, 3)} times what the load asks`
}

/** Inertia, torque at each stage, torque per microstep and lag, for a person. */
export const dynamicsText = (dynamics: Dynamics, unit: string): string => {
  const { inertia, inertiaKgM2, stiffness, lag } = dynamics
  const parts = inertia.map(({ source, kgM2 }) => `${source} ${gramCm2(kgM2)}`).join(', ')
  return [
    folded(`inertia at the motor ${gramCm2(inertiaKgM2)} g·cm²${parts ? ` (${parts}, rotor the rest)` : ''}`),
    folded(marginLine(dynamics)),
    '',
    torqueTable(dynamics),
    ...(stiffness === null
      ? []
      : ['', modeTable(dynamics), folded(`magnetic spring ${writeNumber(stiffness, 3)} N·m/rad; behind its place under the steady load: ${lag === null ? 'it slips' : `${writeNumber(lag, 3)} ${unit}`}`)]),
  ].join('\n')
}

/** What the coil data say, for a person; empty when nothing was given. */
export const coilText = ({ ratedVoltage, chopperVoltage, timeConstant, cornerStepRate, heatW }: CoilFigures): string => {
  const line = (name: string, value: number | null, unit: string): readonly string[] => (value === null ? [] : [`  ${name} ${writeNumber(value, 3)} ${unit}`])
  const lines = [
    ...line('voltage for rated current', ratedVoltage, 'V'),
    ...line('chopper supply, at most (32·√mH, common practice)', chopperVoltage, 'V'),
    ...line('time constant L/R', timeConstant === null ? null : timeConstant * 1000, 'ms'),
    ...line('corner of a plain voltage drive', cornerStepRate, 'full steps/s'),
    ...line('heat standing still, both coils', heatW, 'W'),
  ]
  return lines.length === 0 ? '' : ['coil', ...lines].join('\n')
}
