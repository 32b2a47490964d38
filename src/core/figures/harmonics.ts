import fQuantile from '@stdlib/stats-base-dists-f-quantile'
import { linearLeastSquares } from '#core/numeric/least-squares'

/** One sine wave found in the position errors. */
export interface Harmonic {
  /** Cycles per electrical cycle, or per turn for a mechanical one. */
  readonly order: number
  readonly about: 'electrical cycle' | 'turn'
  readonly amplitudeDeg: number
  /** Phase ψ of amplitude·sin(order·angle + ψ), deg. */
  readonly phaseDeg: number
  readonly standardErrorDeg: number
  readonly significant: boolean
  /** Only one of its two components shows at this number of microsteps: the amplitude is the least it can be. */
  readonly halfSeen: boolean
}

interface Wave {
  readonly order: number
  readonly about: Harmonic['about']
  /** Radians per command. */
  readonly rate: number
  readonly halfSeen: boolean
}

export interface HarmonicOptions {
  readonly stepsPerRev: number
  readonly microsteps: number
  /** Fit orders 1 and 2 of the turn too; only for a full turn. */
  readonly withTurn: boolean
}

const electricalOrders = [1, 2, 4]

/** Orders below the fold of 2N samples are seen whole; the one at the fold by one component; those above not at all. */
const waves = ({ stepsPerRev, microsteps, withTurn }: HarmonicOptions): Wave[] => {
  const electrical = electricalOrders
    .filter((order) => order <= 2 * microsteps)
    .map((order): Wave => ({ order, about: 'electrical cycle', rate: (order * Math.PI) / 2 / microsteps, halfSeen: order === 2 * microsteps }))
  const turn = [1, 2].map((order): Wave => ({ order, about: 'turn', rate: (2 * Math.PI * order) / (stepsPerRev * microsteps), halfSeen: false }))
  return withTurn ? [...turn, ...electrical] : electrical
}

const columnsOf = (wave: Wave, commands: number): number[][] => {
  const angles = Array.from({ length: commands }, (_, i) => wave.rate * (i + 1))
  const cosines = angles.map(Math.cos)
  return wave.halfSeen ? [cosines] : [angles.map(Math.sin), cosines]
}

/**
 * Least-squares sine waves in e_1 … e_K: electrical orders 1 (current offset), 2 (unequal phases), 4 (detent, saturation
 * or current profile) and, over a full turn, mechanical orders 1 (off-centre) and 2 (tilt). All fitted together with a
 * constant. Significant: F test of the pair at 5 % shared out over the orders (Bonferroni).
 * @returns an empty list when there are too few commands to tell the waves apart
 */
export const harmonicsOf = (errorsDeg: readonly number[], options: HarmonicOptions): Harmonic[] => {
  const counted = errorsDeg.slice(1)
  const searched = waves(options)
  const blocks = searched.map((wave) => columnsOf(wave, counted.length))
  const fit = linearLeastSquares([counted.map(() => 1), ...blocks.flat()], counted)
  if (!fit || fit.degreesOfFreedom < 2) return []
  let at = 1
  return searched.map((wave, i) => {
    const size = blocks[i]?.length ?? 0
    const place = at
    at += size
    const [b = 0, c = 0] = size === 2 ? [fit.coefficients[place], fit.coefficients[place + 1]] : [0, fit.coefficients[place]]
    const amplitude = Math.hypot(b, c)
    const variance = (j: number): number => fit.covariance[j]?.[j] ?? 0
    const cross = size === 2 ? (fit.covariance[place]?.[place + 1] ?? 0) : 0
    const spread = size === 2 ? (b * b * variance(place) + c * c * variance(place + 1) + 2 * b * c * cross) / Math.max(amplitude * amplitude, 1e-300) : variance(place)
    const standardErrorDeg = amplitude > 0 ? Math.sqrt(Math.max(0, spread)) : Math.sqrt(variance(place))
    const level = 1 - 0.05 / searched.length
    const limit = fQuantile(level, size, fit.degreesOfFreedom)
    const strength = (amplitude * amplitude) / size / Math.max((variance(place) + variance(place + size - 1)) / 2, 1e-300)
    const real = amplitude > 1e-9
    return { order: wave.order, about: wave.about, amplitudeDeg: amplitude, phaseDeg: (Math.atan2(c, b) * 180) / Math.PI, standardErrorDeg, significant: real && strength > limit, halfSeen: wave.halfSeen }
  })
}

/** The waves themselves, evaluated at commands 0 … K: what to take off the errors to be rid of them. */
export const evaluateTurnWaves = (harmonics: readonly Harmonic[], commands: number, commandsPerTurn: number): number[] =>
  Array.from({ length: commands + 1 }, (_, k) =>
    harmonics.reduce((sum, { amplitudeDeg, order, phaseDeg }) => sum + amplitudeDeg * Math.sin((2 * Math.PI * order * k) / commandsPerTurn + (phaseDeg * Math.PI) / 180), 0),
  )
