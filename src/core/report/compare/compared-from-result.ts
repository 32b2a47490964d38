import type { ComparedMotor } from '#core/decide/compare/compared-motor'
import type { Result } from '#core/report/result-schema'

/** What a comparison needs of a result document. */
export const comparedFrom = ({ motor, figures, modes, directions, rests }: Result, label: string): ComparedMotor => ({
  label,
  stepsPerRev: motor.stepsPerRev,
  microsteps: motor.microsteps,
  effective: figures.effectiveMicrosteps,
  modes: modes.map(({ microsteps, verdict }) => ({ microsteps, verdict })),
  reversal: directions && { deg: directions.reversalDeg, uDeg: directions.reversalUDeg },
  errors: rests.slice(1).flatMap(({ command, errorDeg, uDeg }) => (errorDeg === null ? [] : [{ command, errorDeg, uDeg }])),
})

/** Labels that tell results apart: the motor's name, with its source or a number added where names are alike. */
export const labelsFor = (results: readonly Result[], sources: readonly string[]): string[] => {
  const names = results.map(({ motor }) => motor.name)
  const first = names.map((name, i) => (names.filter((other) => other === name).length > 1 ? `${name} (${sources[i] ?? i + 1})` : name))
  return first.map((label, i) => (first.indexOf(label) === i ? label : `${label} #${i + 1}`))
}
