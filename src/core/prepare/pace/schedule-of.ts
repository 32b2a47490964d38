import { type Leg, legsOf } from './legs-of.ts'
import type { PaceSetup } from './pace-setup.ts'

/** One thing that happens, with its start time in s from the beginning and how long it takes. */
export type PaceEvent =
  | {
      readonly kind: 'run'
      readonly from: number
      readonly to: number
      readonly why: 'run-up' | 'overrun' | 'start'
      readonly atS: number
      readonly seconds: number
    }
  | {
      readonly kind: 'mark'
      readonly command: number
      readonly pass: number
      readonly direction: 1 | -1
      readonly atS: number
      readonly seconds: number
    }
  | { readonly kind: 'cool'; readonly atS: number; readonly seconds: number }

type Timed = PaceEvent extends infer E ? (E extends PaceEvent ? Omit<E, 'atS'> : never) : never

const expand = (leg: Leg, at: number, setup: PaceSetup): readonly Timed[] => {
  if (leg.kind === 'cool') return [{ kind: 'cool', seconds: leg.seconds }]
  if (leg.kind === 'run')
    return [{ kind: 'run', from: at, to: leg.to, why: leg.why, seconds: Math.abs(leg.to - at) / setup.rate }]
  const sign = Math.sign(leg.to - at)
  return Array.from({ length: Math.abs(leg.to - at) + 1 }, (_, index) => ({
    kind: 'mark',
    command: at + sign * index,
    pass: leg.pass,
    direction: leg.direction,
    seconds: (index === 0 ? 0 : 1 / setup.rate) + setup.settleS + setup.dwellS,
  }))
}

/** Every move, mark and pause of a run in order; a mark's time holds the step to it, settling and dwell. */
export const scheduleOf = (setup: PaceSetup): readonly PaceEvent[] => {
  const events: PaceEvent[] = []
  let [at, atS] = [0, 0]
  for (const leg of legsOf(setup)) {
    for (const event of expand(leg, at, setup)) {
      events.push({ ...event, atS } as PaceEvent)
      atS += event.seconds
    }
    if (leg.kind !== 'cool') at = leg.to
  }
  return events
}

/** Marks of the run alone, in the order they are made. */
export const marksOf = (events: readonly PaceEvent[]): readonly Extract<PaceEvent, { kind: 'mark' }>[] =>
  events.filter((event) => event.kind === 'mark')
