import * as z from 'zod'
import { hintsSchema } from '#core/ingest/hints-schema'
import type { Work } from '#core/review/work'

const finite = z.number()
const point = z.tuple([finite, finite])
const id = z.string().max(40)
const at = z.string().max(40)
const stroke = { p0: point, p1: point }
const count = z.int().min(-10_000_000).max(10_000_000).nullable()

const edit = z.discriminatedUnion('kind', [
  z.object({ at, kind: z.literal('move'), mark: id, ...stroke }),
  z.object({ at, kind: z.literal('add'), mark: id, ...stroke }),
  z.object({ at, kind: z.literal('delete'), mark: id }),
  z.object({ at, kind: z.literal('split'), mark: id, into: z.tuple([z.object(stroke), z.object(stroke)]), named: z.tuple([id, id]) }),
  z.object({ at, kind: z.literal('label'), mark: id, command: count, tally: count }),
  z.object({ at, kind: z.literal('accept'), mark: id }),
  z.object({ at, kind: z.literal('centre'), to: point }),
  z.object({ at, kind: z.literal('corners'), to: z.tuple([point, point, point, point]) }),
])

const mark = z.looseObject({
  angleDeg: finite.nullable(),
  uDeg: finite.nullable(),
  uOwnDeg: finite.nullable(),
  positionPx: finite.nullable(),
  positionMm: finite.nullable(),
  uPosition: finite.nullable(),
  // Work that an earlier version saved has the mark's own share as its only one.
  uOwnPosition: finite.nullable().default(null),
  ...stroke,
  widthPx: finite,
  confidence: finite,
  multiplicity: finite,
})

const detection = z.looseObject({
  kind: z.literal('detection'),
  rig: z.enum(['pointer', 'mirror']),
  widthPx: finite,
  heightPx: finite,
  centrePx: point.nullable(),
  cornersPx: z.array(point).max(4).nullable(),
  marks: z.array(mark).max(20_000),
  refused: z.array(z.looseObject({ ...stroke, why: z.string().max(400) })).max(20_000),
  doubts: z.array(z.string().max(2000)).max(200),
})

/** A test as it may be saved; anything else is refused. */
export const workSchema = z.strictObject({
  schema: z.literal('stepwitness/work@1'),
  name: z.string().min(1).max(80),
  setUp: z.record(z.string().max(40), z.string().max(200)),
  source: z.enum(['typed', 'photo']),
  rows: z.array(z.array(z.string().max(200)).max(6)).max(20_000),
  photo: z.object({ name: z.string().max(120), sha256: z.string().max(64) }).nullable(),
  found: detection.nullable(),
  hints: hintsSchema.nullable().exactOptional(),
  edits: z.array(edit).max(200_000),
  applied: z.int().min(0).max(200_000),
  pace: z.strictObject({ commands: z.int().min(1).max(10_000_000), dwellS: finite, command: z.int(), bothWays: z.boolean() }).nullable(),
  machine: z.strictObject({ trains: z.array(z.string().max(300)).max(20), resolution: z.string().max(60), load: z.record(z.string().max(20), z.string().max(400)).exactOptional() }),
})

export const readWork = (value: unknown): Work | null => {
  const read = workSchema.safeParse(value)
  return read.success ? (read.data as unknown as Work) : null
}
