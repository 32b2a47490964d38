import type { ModeVerdict } from './mode-verdict.ts'

export interface Recommendation {
  /** Highest mode that holds; null when none does. */
  readonly microsteps: number | null
  readonly why: string
}

export const modeName = (microsteps: number): string => ['', 'full steps', 'half steps'][microsteps] ?? `1/${microsteps} steps`

const listed = (modes: readonly ModeVerdict[], verdict: ModeVerdict['verdict']): string =>
  modes.filter((mode) => mode.verdict === verdict).map((mode) => modeName(mode.microsteps)).join(', ')

/**
 * The highest mode that holds, and why not a higher one.
 * @param modes verdicts, coarse to fine
 */
export const recommend = (modes: readonly ModeVerdict[]): Recommendation => {
  const held = modes.findLast((mode) => mode.verdict === 'holds')
  const next = modes.find((mode) => mode.microsteps > (held?.microsteps ?? 0))
  if (held && !next) return { microsteps: held.microsteps, why: `${modeName(held.microsteps)} hold: ${held.why}` }
  if (held && next) return { microsteps: held.microsteps, why: `${modeName(held.microsteps)} hold; ${modeName(next.microsteps)} ${next.verdict === 'fails' ? 'fail' : 'are not proven'}: ${next.why}` }
  const failed = listed(modes, 'fails')
  const first = modes[0]
  return { microsteps: null, why: failed ? `no mode holds (${failed} fail): ${modes.find((mode) => mode.verdict === 'fails')?.why}` : `nothing is proven yet: ${first?.why ?? 'the trace is too short'}` }
}
