import type { DriveFigures } from '#core/decide/drive/drive-figures'
import { figuresOfRests } from '#core/decide/drive/figures-of-rests'
import type { Result } from './result-schema.ts'

/** What a result document says to a drive train: per mode its verdict, effective count and largest increment. */
export const driveFigures = ({
  motor,
  settings,
  rests,
  figures,
  modes,
  directions,
  uncertainty,
}: Result): DriveFigures =>
  figuresOfRests({
    motor,
    fullStepCommand: settings.fullStepCommand.command,
    rests,
    effective: figures.effectiveMicrosteps,
    modes,
    reversalDeg: directions?.reversalDeg ?? null,
    markUDeg: uncertainty.markDeg,
  })
