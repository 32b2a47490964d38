import type { PaceSetup } from './pace-setup.ts'

/** A stretch of the run, in commanded indices (0 is the start mark). */
export type Leg =
  /** Moves without marking, one command at a time. */
  | { readonly kind: 'run'; readonly to: number; readonly why: 'run-up' | 'overrun' | 'start' }
  /** Marks at every command from where it stands to `to`, both ends included. */
  | { readonly kind: 'marks'; readonly to: number; readonly pass: number; readonly direction: 1 | -1 }
  /** Current off. */
  | { readonly kind: 'cool'; readonly seconds: number }

const onePass = (setup: PaceSetup, pass: number): readonly Leg[] => {
  const { commands, runUp, bothWays, coolS, passes } = setup
  const approach: readonly Leg[] =
    runUp > 0
      ? [
          { kind: 'run', to: -runUp, why: 'run-up' },
          { kind: 'run', to: 0, why: 'start' },
        ]
      : [{ kind: 'run', to: 0, why: 'start' }]
  const turn: readonly Leg[] =
    runUp > 0
      ? [
          { kind: 'run', to: commands + runUp, why: 'overrun' },
          { kind: 'run', to: commands, why: 'start' },
        ]
      : []
  return [
    ...approach,
    { kind: 'marks', to: commands, pass, direction: 1 },
    ...(bothWays ? [...turn, { kind: 'marks', to: 0, pass, direction: -1 } as const] : []),
    ...(coolS > 0 && pass < passes
      ? [{ kind: 'run', to: 0, why: 'start' } as const, { kind: 'cool', seconds: coolS } as const]
      : []),
  ]
}

/**
 * The run as legs from command 0: each pass begins with a run-up that arrives in the direction of travel, so that friction and
 * play are taken up the same way every time; a return pass begins beyond the end for the same reason. Cooling happens at
 * command 0, where the start mark shows afterwards whether the shaft moved. A leg that goes nowhere is left out.
 */
export const legsOf = (setup: PaceSetup): readonly Leg[] => {
  let at = 0
  return Array.from({ length: setup.passes }, (_, index) => onePass(setup, index + 1))
    .flat()
    .filter((leg) => {
      if (leg.kind === 'cool') return true
      const moves = leg.kind === 'marks' || leg.to !== at
      at = leg.to
      return moves
    })
}
