import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

/** One run out and back to the start mark at a step rate: how far from the mark it came to rest, in full steps (signed). */
export interface LadderRun {
  /** Full steps per second. */
  readonly rate: number
  readonly offsetSteps: number
}

export interface LadderStep extends LadderRun {
  /** Electrical cycles lost (each four full steps); 0 when it came back. */
  readonly cycles: number
  /** What the run shows. An offset that is no whole number of cycles is not a lost step. */
  readonly outcome: 'came back' | 'lost steps' | 'something else'
}

export interface SpeedLadder {
  readonly kind: 'ladder'
  readonly steps: readonly LadderStep[]
  /** Highest rate at which, as at every lower rate tried, nothing was lost; null when the lowest already lost steps. */
  readonly highestSafe: number | null
  readonly lowestLost: number | null
  /** The rate to try next. */
  readonly next: number
  readonly remarks: readonly string[]
}

/** Pen and pointer tolerance, full steps: beyond it from a multiple of four an offset is something else. */
const tolerance = 0.5

const stepOf = (run: LadderRun): LadderStep => {
  const cycles = Math.round(Math.abs(run.offsetSteps) / 4)
  const whole = Math.abs(Math.abs(run.offsetSteps) - 4 * cycles) <= tolerance
  return {
    ...run,
    cycles: whole ? cycles : 0,
    outcome: !whole ? 'something else' : cycles === 0 ? 'came back' : 'lost steps',
  }
}

const nextRate = (safe: number | null, lost: number | null, rates: readonly number[]): number => {
  if (lost === null) return Math.max(...rates) * 1.5
  return safe === null ? lost / 2 : (safe + lost) / 2
}

const remarksOf = (steps: readonly LadderStep[], safe: number | null, lost: number | null): readonly string[] => {
  const odd = steps.filter(({ outcome }) => outcome === 'something else')
  const above = lost === null ? [] : steps.filter(({ rate, outcome }) => rate > lost && outcome === 'came back')
  return [
    ...odd.map(
      ({ rate, offsetSteps }) =>
        `At ${rate} steps/s it rests ${offsetSteps} full steps off: lost steps come in fours, so look for a slipped pointer, a merged microstep or a misread mark.`,
    ),
    ...(above.length > 0
      ? [
          `It came back at ${above.map(({ rate }) => rate).join(', ')} steps/s though it lost steps at ${lost}: a resonance band; pass through it quickly or stay below.`,
        ]
      : []),
    ...(lost === null ? ['No step was lost yet: the limit is above the rates tried.'] : []),
    ...(safe === null && lost !== null ? ['The lowest rate tried already lost steps: begin lower.'] : []),
  ]
}

/**
 * The speed ladder: the highest rate with no lost step, counted from below, so that a good run above a bad one does not count.
 * Lost steps come in whole electrical cycles of four full steps (the rotor falls into the next stable position, n·4 steps on).
 */
export const speedLadder = (runs: readonly LadderRun[]): SpeedLadder | Unmeasurable => {
  if (runs.length === 0 || runs.some(({ rate, offsetSteps }) => !(rate > 0) || !Number.isFinite(offsetSteps)))
    return unmeasurable(
      'a run has no rate above zero or no offset',
      'ladder',
      'give rate:offset pairs such as 200:0, 400:0, 600:-4',
    )
  const steps = runs.map(stepOf).toSorted((a, b) => a.rate - b.rate)
  const lost = steps.find(({ outcome }) => outcome === 'lost steps')?.rate ?? null
  const safe =
    steps.findLast(({ rate, outcome }) => outcome === 'came back' && (lost === null || rate < lost))?.rate ?? null
  return {
    kind: 'ladder',
    steps,
    highestSafe: safe,
    lowestLost: lost,
    next: nextRate(
      safe,
      lost,
      runs.map(({ rate }) => rate),
    ),
    remarks: remarksOf(steps, safe, lost),
  }
}
