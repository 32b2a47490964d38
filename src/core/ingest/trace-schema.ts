import * as z from 'zod'
import { positionUnits } from '#core/quantity/position-unit'
import type { Trace } from './trace.ts'

const stated = z.object({ value: z.number(), u: z.number().nonnegative() }).describe('a length in mm with its standard uncertainty; u = 0: not stated')
const unit = z.enum(positionUnits as unknown as readonly [Trace['unit'], ...Trace['unit'][]])
const whole = z.number().int()

const rig = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('pointer'), radiusMm: stated.nullable() }),
  z.object({ kind: z.literal('arc'), radiusMm: stated }),
  z.object({ kind: z.literal('chord'), radiusMm: stated }),
  z.object({ kind: z.literal('mirror'), distanceMm: stated, footMm: stated.nullable(), ratio: z.union([z.literal(1), z.literal(2)]) }),
])

const mark = z.object({
  line: whole.describe('line of the file (1 = first), or number of the mark in a photo'),
  position: z.number(),
  command: whole.nullable(),
  tally: whole.nonnegative().nullable(),
  pass: whole.nonnegative(),
  direction: z.union([z.literal(1), z.literal(-1)]).nullable(),
  note: z.string(),
  u: z.number().nonnegative().nullable(),
  multiplicity: whole.positive(),
})

/** A trace as the core takes it, after reading: what `readTrace` gives and `measure` wants. Units and frames: see `Trace`. */
export const traceSchema = z.object({
  kind: z.literal('trace'),
  motor: z.object({ name: z.string(), stepsPerRev: whole.positive(), microsteps: whole.positive() }),
  rig,
  unit,
  gears: z.array(z.object({ drivenTeeth: whole.positive(), drivingTeeth: whole.positive() })),
  markUncertainty: z.object({ value: z.number().nonnegative(), unit }).nullable(),
  markParts: z.array(z.object({ source: z.enum(['line width', 'parallax', 'hand']), value: z.number().nonnegative(), unit })).optional(),
  lastDigit: z.number().nonnegative(),
  commands: whole.positive().nullable(),
  fullStepCommand: whole.nonnegative().nullable(),
  marks: z.array(mark),
  common: z.array(z.object({ source: z.string(), uDeg: z.number().nonnegative() })),
  ordered: z.boolean(),
  warnings: z.array(z.string()),
}) satisfies z.ZodType<unknown>
