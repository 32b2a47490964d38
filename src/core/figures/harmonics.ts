import fQuantile from '@stdlib/stats-base-dists-f-quantile'
import { type LinearFit, linearLeastSquares } from '#core/numeric/least-squares'
import { amplitudeInterval } from './amplitude-interval.ts'
import { cycleNoise, type Noise } from './cycle-noise.ts'
import { columnsOf, electricalWaves, turnWaves, type Wave } from './waves.ts'

/** One sine wave found in the position errors. */
export interface Harmonic {
  /** Cycles per electrical cycle, or per turn for a mechanical one. */
  readonly order: number
  readonly about: 'electrical cycle' | 'turn'
  readonly amplitudeDeg: number
  /** 95 % interval of the amplitude, deg. */
  readonly lowDeg: number
  readonly highDeg: number
  /** Phase ψ of amplitude·sin(order·angle + ψ), deg. */
  readonly phaseDeg: number
  readonly standardErrorDeg: number
  readonly significant: boolean
  /** Only one of its two components shows at this number of microsteps: the amplitude is the least it can be. */
  readonly halfSeen: boolean
}

export interface HarmonicOptions {
  readonly stepsPerRev: number
  readonly microsteps: number
  /** Fit orders 1 and 2 of the turn too; only for a full turn. */
  readonly withTurn: boolean
  /** Give only these back; the others are fitted beside them all the same. */
  readonly only?: Harmonic['about']
}

const electricalOrders = [1, 2, 4]

interface FittedWave {
  readonly wave: Wave
  /** Coefficients of sine and cosine, deg. */
  readonly pair: readonly [sine: number, cosine: number]
  /** Covariance of the pair over the variance of one error; sine first. */
  readonly cofactors: readonly [ss: number, sc: number, cc: number]
}

const fittedWaves = (searched: readonly Wave[], blocks: readonly (readonly number[][])[], fit: LinearFit): FittedWave[] => {
  const variance = fit.residualSumOfSquares / fit.degreesOfFreedom
  const cofactor = (i: number, j: number): number => (variance > 0 ? (fit.covariance[i]?.[j] ?? 0) / variance : 0)
  let at = 1
  return searched.map((wave, i) => {
    const place = at
    at += blocks[i]?.length ?? 0
    const [first = 0, second = 0] = fit.coefficients.slice(place)
    if (wave.halfSeen) return { wave, pair: [0, first], cofactors: [0, 0, cofactor(place, place)] }
    return { wave, pair: [first, second], cofactors: [cofactor(place, place), cofactor(place, place + 1), cofactor(place + 1, place + 1)] }
  })
}

const harmonicFrom = ({ wave, pair: [b, c], cofactors: [ss, sc, cc] }: FittedWave, noise: Noise, level: number): Harmonic => {
  const amplitude = Math.hypot(b, c)
  const size = wave.halfSeen ? 1 : 2
  const along = amplitude > 0 ? (b * b * ss + c * c * cc + 2 * b * c * sc) / (amplitude * amplitude) : (ss + cc) / size
  const standardErrorDeg = Math.sqrt(Math.max(0, along) * noise.variance)
  const strength = (amplitude * amplitude) / Math.max((ss + cc) * noise.variance, 1e-300)
  const [lowDeg, highDeg] = amplitudeInterval(amplitude, Math.sqrt(((ss + cc) / size) * noise.variance), { components: size, degreesOfFreedom: noise.degreesOfFreedom })
  return {
    order: wave.order,
    about: wave.about,
    amplitudeDeg: amplitude,
    lowDeg,
    highDeg,
    phaseDeg: (Math.atan2(c, b) * 180) / Math.PI,
    standardErrorDeg,
    significant: amplitude > 1e-9 && strength > fQuantile(level, size, noise.degreesOfFreedom),
    halfSeen: wave.halfSeen,
  }
}

const waveAt = ({ wave, pair: [b, c] }: FittedWave, command: number): number => b * Math.sin(wave.rate * command) + c * Math.cos(wave.rate * command)

/**
 * Least-squares sine waves in e_1 … e_K: electrical orders 1 (current offset), 2 (unequal phases), 4 (detent, saturation
 * or current profile) and, over a full turn, mechanical orders 1 (off-centre) and 2 (tilt). All fitted together with a
 * constant. Their noise is how far errors at the same phase differ from cycle to cycle; only with less than one cycle to
 * spare is it what the waves leave over. Significant: F test of the pair at 5 % shared out over the orders (Bonferroni).
 * @returns an empty list when there are too few commands to tell the waves apart
 */
export const harmonicsOf = (errorsDeg: readonly number[], options: HarmonicOptions): Harmonic[] => {
  const counted = errorsDeg.slice(1)
  const searched = [...(options.withTurn ? turnWaves(options.stepsPerRev * options.microsteps) : []), ...electricalWaves(electricalOrders, options.microsteps)]
  const blocks = searched.map((wave) => columnsOf(wave, counted.length))
  const fit = linearLeastSquares([counted.map(() => 1), ...blocks.flat()], counted)
  if (!fit || fit.degreesOfFreedom < 2) return []
  const fitted = fittedWaves(searched, blocks, fit)
  const turning = fitted.filter(({ wave }) => wave.about === 'turn')
  const straightened = errorsDeg.map((error, k) => error - turning.reduce((sum, each) => sum + waveAt(each, k), 0))
  const noise = cycleNoise(straightened, options.microsteps, 2 * turning.length) ?? { variance: fit.residualSumOfSquares / fit.degreesOfFreedom, degreesOfFreedom: fit.degreesOfFreedom }
  const wanted = fitted.filter(({ wave }) => options.only === undefined || wave.about === options.only)
  return wanted.map((each) => harmonicFrom(each, noise, 1 - 0.05 / searched.length))
}

/** The waves themselves, evaluated at commands 0 … K: what to take off the errors to be rid of them. */
export const evaluateTurnWaves = (harmonics: readonly Harmonic[], commands: number, commandsPerTurn: number): number[] =>
  Array.from({ length: commands + 1 }, (_, k) =>
    harmonics.reduce((sum, { amplitudeDeg, order, phaseDeg }) => sum + amplitudeDeg * Math.sin((2 * Math.PI * order * k) / commandsPerTurn + (phaseDeg * Math.PI) / 180), 0),
  )
