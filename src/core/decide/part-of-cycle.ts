import type { ModeVerdict } from './mode-verdict.ts'

/**
 * A motor repeats its pattern every four full steps: of less than that no mode that holds has been seen whole. One sentence, or none.
 * @param commands K of the trace
 */
export const partOfCycle = (modes: readonly ModeVerdict[], { commands, microsteps }: { readonly commands: number; readonly microsteps: number }): string[] =>
  commands >= 4 * microsteps || modes.every(({ verdict }) => verdict !== 'holds')
    ? []
    : [`The marks cover ${Number((commands / microsteps).toPrecision(2))} of the four full steps in which a motor repeats its pattern: that a mode holds is said of these commands alone. Mark at least ${4 * microsteps} commands in a row to know the rest.`]
