import type { Command } from 'commander'
import { wrongUsage } from './motor-options.ts'

/** Motor turns per pointer turn from tooth counts driven:driving, several with commas; 1 when nothing was given. */
export const gearRatio = (command: Command, text: string | undefined): number =>
  (text ?? '')
    .split(/[,;\s]+/)
    .filter((stage) => stage !== '')
    .reduce((ratio, stage) => {
      const [, driven = '', driving = ''] = /^(\d+(?:\.\d+)?):(\d+(?:\.\d+)?)$/.exec(stage) ?? []
      const value = Number(driven) / Number(driving)
      return Number.isFinite(value) && value > 0
        ? ratio * value
        : wrongUsage(command, `--gears must be tooth counts such as 17:2, not "${stage}"`)
    }, 1)
