import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

/** Full steps per revolution that two-phase and five-phase steppers are made with (common practice, no source). */
export const stepFamilies: readonly { readonly stepsPerRev: number; readonly what: string }[] = [
  { stepsPerRev: 20, what: 'can-stack, 18°' },
  { stepsPerRev: 24, what: 'can-stack, 15°' },
  { stepsPerRev: 32, what: 'can-stack, 11.25°, often behind a gear' },
  { stepsPerRev: 40, what: 'can-stack, 9°' },
  { stepsPerRev: 48, what: 'can-stack, 7.5°' },
  { stepsPerRev: 96, what: 'can-stack, 3.75°' },
  { stepsPerRev: 100, what: 'hybrid, 3.6°' },
  { stepsPerRev: 120, what: 'can-stack or hybrid, 3°' },
  { stepsPerRev: 144, what: 'hybrid, 2.5°' },
  { stepsPerRev: 180, what: 'hybrid, 2°' },
  { stepsPerRev: 200, what: 'hybrid, 1.8°' },
  { stepsPerRev: 400, what: 'hybrid, 0.9°' },
  { stepsPerRev: 500, what: 'five-phase hybrid, 0.72°' },
]

export interface TurnSeen {
  /** Commands given. */
  readonly commands: number
  /** Microsteps per full step the driver was set to. */
  readonly microsteps: number
  /** How far the shaft turned, deg, and its standard uncertainty. */
  readonly turnedDeg: number
  readonly uDeg: number
}

export interface StepsFound {
  readonly kind: 'steps'
  /** commands / N × 360° / turned, and its standard uncertainty. */
  readonly stepsPerRev: number
  readonly u: number
  /** Families by how well they fit, best first: share of the likelihood, all families taken as equally likely beforehand. */
  readonly families: readonly {
    readonly stepsPerRev: number
    readonly what: string
    readonly share: number
    readonly off: number
  }[]
  readonly verdict: string
}

const verdictOf = (found: Pick<StepsFound, 'stepsPerRev' | 'u' | 'families'>): string => {
  const [best, second] = found.families
  if (!best || Math.abs(best.off) > 3)
    return `No family is near ${found.stepsPerRev.toFixed(1)} ± ${(2 * found.u).toFixed(1)}: check the microstep setting, count again, or look for a gear (a gear multiplies the steps by its ratio).`
  if (best.share >= 0.95)
    return `${best.stepsPerRev} steps per turn (${best.what}); the next family, ${second?.stepsPerRev ?? '–'}, is out of question.`
  return `Perhaps ${best.stepsPerRev}, perhaps ${second?.stepsPerRev ?? '–'}: give more commands, so that it turns further, or read the angle better.`
}

/**
 * Full steps per revolution from commands given and angle turned, and which real families fit it, the angle's error taken as normal:
 * u(S) = S·u/θ. A wrong microstep setting or a gear shows as no fit or as another family, so the setting must be known.
 */
export const stepsFromTurn = ({ commands, microsteps, turnedDeg, uDeg }: TurnSeen): StepsFound | Unmeasurable => {
  if (!(turnedDeg > 0))
    return unmeasurable(
      'it did not turn',
      'turned',
      'give an angle above zero; if the shaft only buzzed, a coil is wired wrong',
    )
  if (!(commands >= 1) || !(microsteps >= 1) || !(uDeg > 0))
    throw new RangeError(
      `expected commands and microsteps of at least 1 and u above zero, got ${commands}, ${microsteps}, ${uDeg}`,
    )
  const stepsPerRev = ((commands / microsteps) * 360) / turnedDeg
  const u = (stepsPerRev * uDeg) / turnedDeg
  const rows = stepFamilies.map((family) => {
    // The family says what angle should have been seen; compare there, where the error is.
    const off = (turnedDeg - ((commands / microsteps) * 360) / family.stepsPerRev) / uDeg
    return { ...family, off }
  })
  const least = Math.min(...rows.map(({ off }) => off ** 2))
  const weights = rows.map(({ off }) => Math.exp((least - off ** 2) / 2))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const families = rows
    .map((row, index) => ({ ...row, share: (weights[index] ?? 0) / total }))
    .toSorted((a, b) => b.share - a.share)
  return { kind: 'steps', stepsPerRev, u, families, verdict: verdictOf({ stepsPerRev, u, families }) }
}

/** A share of likelihood in words: never a bare 100 % or 0 %. */
export const shareText = (share: number): string =>
  share > 0.999 ? '> 99.9 %' : share < 0.001 ? '< 0.1 %' : `${(share * 100).toFixed(1)} %`
