import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { chooseBlocks } from './choose-blocks.ts'
import { compareModels } from './compare-models.ts'
import { findingText } from './finding-text.ts'
import { type FoldedPattern, foldPattern, type MotorTrace } from './folded-pattern.ts'
import type { MotorFit } from './motor-fit.ts'
import { nameCause } from './name-cause.ts'
import { parameterSizes } from './parameter-sizes.ts'
import { sampleRests } from './sample-rests.ts'
import { chanceOfMisfit, weighBlocks } from './weigh-blocks.ts'

export interface FitOptions {
  /** Any finite number; the same seed repeats every interval. */
  readonly seed: number
  /** `sampled` (default) draws the intervals from the likelihood; `linear` from the fit's covariance alone, for a page that must answer while a slider moves. */
  readonly intervals?: 'sampled' | 'linear'
}

/** The fitted motor for what comes after: prediction and correction. */
export interface FittedRests {
  readonly stepsPerRev: number
  /** N of the trace. */
  readonly microsteps: number
  /** Best parameter vector and likelihood samples, order and frame as in rest-parameters. */
  readonly parameters: readonly number[]
  readonly samples: readonly (readonly number[])[]
  /** Directions the trace travelled in. */
  readonly directions: readonly (1 | -1)[]
  /** Mean square, electrical rad², of what does not repeat and is not the marks' own u: teeth, repeatability, model. */
  readonly excessVariance: number
  /** u of one mark, electrical rad. */
  readonly u: number
  readonly rests: number
}

export interface FittedMotor {
  readonly kind: 'fitted motor'
  readonly motorFit: MotorFit
  readonly fitted: FittedRests
}

const lacks = (trace: MotorTrace, pattern: FoldedPattern): Unmeasurable | null => {
  const seen = pattern.legs.some(({ count }) => count.every((n) => n > 0))
  if (!seen)
    return unmeasurable(
      'the rest model needs every command of one electrical cycle (four full steps)',
      'trace',
      `mark at least ${4 * trace.microsteps + Math.max(1, trace.microsteps)} commands in a row in one direction`,
    )
  if (!(trace.uDeg > 0) && pattern.scatterFreedom < 4)
    return unmeasurable('neither a mark uncertainty nor repeats say how well the marks are placed', 'trace', 'state the uncertainty of a mark, or mark more cycles')
  return null
}

const requireTrace = ({ commands, anglesDeg, directions, passes, microsteps, stepsPerRev }: MotorTrace): void => {
  const lengths = [anglesDeg.length, directions.length, passes.length]
  if (lengths.some((length) => length !== commands.length))
    throw new RangeError(`commands, anglesDeg, directions and passes must be equally long, got ${[commands.length, ...lengths].join(', ')}`)
  if (!Number.isInteger(microsteps) || microsteps < 1) throw new RangeError(`microsteps must be a whole number of at least 1, got ${microsteps}`)
  if (!(stepsPerRev > 0)) throw new RangeError(`stepsPerRev must be positive, got ${stepsPerRev}`)
}

/**
 * Fits the two-phase rest model to a trace and says which cause its pattern carries. The settled rests are folded at the
 * electrical cycle (4N commands), each direction for itself; all blocks the data can carry are fitted together; each is then left
 * out in turn to see whether the data miss it. 95 % intervals by sampling the likelihood (seeded).
 * @returns unmeasurable when no direction shows a whole electrical cycle, or nothing says how good a mark is
 */
export const fitMotor = (trace: MotorTrace, { seed, intervals = 'sampled' }: FitOptions): FittedMotor | Unmeasurable => {
  requireTrace(trace)
  const pattern = foldPattern(trace)
  const lack = lacks(trace, pattern)
  if (lack !== null) return lack
  const { microsteps, stepsPerRev } = trace
  const full = chooseBlocks(pattern)
  const evidence = weighBlocks(pattern, full)
  const samples = sampleRests(pattern, full, { seed, intervals })
  const { sizes, notTold } = parameterSizes(pattern, full, evidence, samples)
  const verdict = nameCause(full, evidence, chanceOfMisfit(pattern, full))
  const finding = { cause: verdict.cause, text: findingText(verdict, full, sizes), confidence: verdict.confidence }
  const size = (block: Parameters<typeof sizes.get>[0]) => sizes.get(block) ?? null
  const motorFit: MotorFit = {
    detent2: size('detent2'),
    detent4: size('detent4'),
    imbalance: size('imbalance'),
    offset: size('offset'),
    friction: size('friction'),
    finding,
    notTold,
    models: compareModels(pattern, full, evidence),
  }
  const fitted: FittedRests = {
    stepsPerRev,
    microsteps,
    parameters: full.fit.parameters,
    samples,
    directions: pattern.legs.map((leg) => leg.direction),
    excessVariance: Math.max(0, full.noise.variance - pattern.u ** 2),
    u: pattern.u,
    rests: pattern.rests,
  }
  return { kind: 'fitted motor', motorFit, fitted }
}
