import * as z from 'zod'
import { directionsSchema, passTableSchema } from './pass-schema.ts'

const finite = z.number()
const point = z.tuple([finite, finite])
const interval = z.object({ value: finite, low: finite, high: finite })

const harmonic = z.object({
  order: finite,
  about: z.enum(['electrical cycle', 'turn']),
  amplitudeDeg: finite,
  /** 95 % interval of the amplitude. */
  lowDeg: finite,
  highDeg: finite,
  phaseDeg: finite,
  standardErrorDeg: finite,
  significant: z.boolean(),
  halfSeen: z.boolean(),
})

const mark = z.object({
  angleDeg: finite.nullable(),
  uDeg: finite.nullable(),
  uOwnDeg: finite.nullable().optional(),
  positionPx: finite.nullable().optional(),
  positionMm: finite.nullable().optional(),
  uPosition: finite.nullable().optional(),
  uOwnPosition: finite.nullable().optional(),
  p0: point,
  p1: point,
  widthPx: finite.optional(),
  confidence: finite,
  multiplicity: finite,
})

/** What other limits (1 ± h) or another u would have made of a mode. */
const sensitivity = z.object({ holdsFromHalfWidth: finite, failsBelowHalfWidth: finite, uFactorToHold: finite.nullable(), uFactorToFail: finite.nullable() })

/** What would turn a verdict that is not proven into an answer. */
const furtherMeasurement = z.object({ expected: z.enum(['holds', 'fails', 'shows']), uDeg: finite, passes: finite, lengthFactor: finite, text: z.string() })

export const detectionSchema = z.looseObject({
  centrePx: point.nullable(),
  rectifiedBy: z.enum(['sheet', 'paper', 'corners', 'ruler', 'edges', 'squares', 'rules', 'circle', 'turn', 'none']),
  marks: z.array(mark),
})

/** The result document, as measured and as read back (interface "stepwitness/result@1"). Angles in deg at the shaft. */
export const resultSchema = z.object({
  schema: z.literal('stepwitness/result@1'),
  motor: z.object({ name: z.string(), stepsPerRev: finite, microsteps: finite }),
  input: z.object({ kind: z.enum(['typed', 'photo']), sha256: z.string().nullable(), name: z.string().nullable() }),
  settings: z.object({
    rig: z.string(),
    seed: finite,
    intervals: z.enum(['sampled', 'linear']),
    incrementLimits: z.object({ low: finite, high: finite }),
    fullStepCommand: z.object({ command: finite, decidedBy: z.enum(['given', 'start', 'fit']) }),
  }),
  detection: detectionSchema.nullable(),
  assignment: z.object({
    decidedBy: z.enum(['command', 'tally', 'order', 'fit']),
    commands: finite,
    marks: finite,
    closed: z.boolean(),
    ambiguous: z.boolean(),
    jumpsUnknown: z.boolean(),
    margin: finite.nullable(),
    /** For each mark: log of how much likelier its number is than the next; null where nothing else fits; empty unless fitted. */
    logOdds: z.array(finite.nullable()),
    doubts: z.array(z.object({ line: finite, command: finite, couldBe: finite, logOdds: finite })),
    /** Lines of the marks that, numbered by hand, would settle the rest. */
    labelsToSettle: z.array(finite),
  }),
  rests: z.array(
    z.object({
      command: finite,
      angleDeg: finite,
      errorDeg: finite.nullable(),
      /** Lowest and highest error over the ways the jumps can be read. */
      errorRangeDeg: z.tuple([finite, finite]),
      uDeg: finite,
      incrementMicrosteps: finite.nullable(),
      incrementUMicrosteps: finite.nullable(),
      merged: z.boolean().nullable(),
      reversed: z.boolean().nullable(),
    }),
  ),
  figures: z.object({
    positionErrorPeakDeg: finite,
    positionErrorPeakToPeakDeg: finite,
    positionErrorRmsDeg: finite,
    positionErrorMidRangePeakDeg: finite,
    positionErrorPeakMicrosteps: finite,
    positionErrorPeakToPeakPercentFullStep: finite,
    incrementErrorMaxMicrosteps: finite,
    largestIncrementDeg: finite,
    /** 95 % intervals of what the motor itself does; results of before 30 November 2026, afternoon, have none. */
    sizeIntervals: z
      .object({ positionErrorPeakDeg: point, positionErrorPeakToPeakDeg: point, positionErrorRmsDeg: point, incrementErrorMaxMicrosteps: point, largestIncrementDeg: point })
      .nullable()
      .default(null),
    merged: finite.nullable(),
    reversed: finite.nullable(),
    missing: finite.nullable(),
    distinctPerFullStep: finite.nullable(),
    effectiveMicrosteps: interval.extend({ method: z.string() }),
    gapEffectiveMicrosteps: finite.nullable(),
    /** 95 % interval; results of before 30 November 2026 have none. */
    gapEffectiveInterval: z.tuple([finite, finite]).nullable().default(null),
    harmonics: z.array(harmonic),
    /** What reading the jumps last instead of first would change; null where nothing is open. */
    jumpsLast: z.object({ positionErrorPeakDeg: finite, positionErrorPeakToPeakDeg: finite, positionErrorRmsDeg: finite, effectiveMicrosteps: finite }).nullable(),
  }),
  repeatPattern: z.object({
    periods: z.array(z.object({ commands: finite, meanDeg: z.array(finite), spreadDeg: z.array(finite.nullable()) })),
    alternateFullSteps: z.object({ f: finite, p: finite, differ: z.boolean() }).nullable(),
  }),
  rigFaults: z.object({
    removed: z.array(harmonic),
    /** Lengths of the rig as the trace's own cycles show them; angles were read with these. */
    lengths: z.array(z.object({ source: z.string(), statedMm: finite, fittedMm: finite, uMm: finite, contradicts: z.boolean() })).default([]),
    /** The figures as they were before; null when nothing was removed. */
    before: z.object({ positionErrorPeakToPeakDeg: finite, positionErrorRmsDeg: finite, effectiveMicrosteps: finite }).nullable(),
  }),
  modes: z.array(
    z.object({
      microsteps: finite,
      verdict: z.enum(['holds', 'fails', 'not proven']),
      worstIncrement: z.tuple([finite, finite]).nullable(),
      why: z.string(),
      sensitivity: sensitivity.nullable(),
      toSettle: furtherMeasurement.nullable(),
    }),
  ),
  recommendation: z.object({ microsteps: finite.nullable(), why: z.string() }),
  motorFit: z.looseObject({
    detent2: interval.nullable(),
    detent4: interval.nullable(),
    imbalance: interval.nullable(),
    offset: interval.nullable(),
    friction: interval.nullable(),
    finding: z.looseObject({ cause: z.string(), text: z.string(), confidence: finite.nullable() }),
  }).nullable(),
  correction: z.union([
    z.object({ withheld: z.string() }),
    z.looseObject({ withheld: z.null(), microsteps: finite, direction: finite, before: z.object({ value: finite, low: finite }), after: z.object({ value: finite, low: finite }), rows: z.array(z.object({ command: finite, nominalPhaseDeg: finite, offsetDeg: finite })) }),
  ]),
  predictions: z.array(z.looseObject({ microsteps: finite, effectiveMicrosteps: interval })),
  passes: passTableSchema,
  directions: directionsSchema.nullable(),
  uncertainty: z.object({
    markDeg: finite,
    commonDeg: finite,
    coverageFactor: finite,
    /** Relative standard uncertainty of every increment from the rig's lengths; 0 where the trace's own cycles settled them. */
    incrementScale: finite.default(0),
    coverageProbability: finite,
    /** Effective degrees of freedom of markDeg; null: without limit. */
    degreesOfFreedom: finite.nullable(),
    resolvablePerFullStep: finite.nullable(),
    contributions: z.array(z.object({ source: z.string(), uDeg: finite, kind: z.enum(['mark', 'common']), degreesOfFreedom: finite.nullable(), note: z.string() })),
  }),
  warnings: z.array(z.string()),
})

export type Result = z.infer<typeof resultSchema>
