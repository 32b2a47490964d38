import { z } from 'zod'

const pair = z.tuple([z.number(), z.number()])

const markShape = z.object({
  drawnDeg: z.number().nullable(),
  drawnMm: z.number().nullable(),
  endsPx: z.tuple([pair, pair]),
  endsMm: z.tuple([pair, pair]),
  centroidPx: pair,
  widthPx: z.number(),
  visible: z.number(),
  bound: z.number(),
  group: z.number(),
})

/** What the benchmark reads of a truth file; scripts/render writes more. */
export const truthShape = z.object({
  schema: z.literal('stepwitness/render-truth@1'),
  seed: z.number(),
  difficulty: z.string(),
  photo: z.object({ file: z.string(), width: z.number(), height: z.number(), orientation: z.number() }),
  rig: z.enum(['pointer', 'mirror']),
  motor: z.object({ fullTurn: z.boolean() }),
  centrePx: pair.nullable(),
  centreMm: pair.nullable(),
  pixelsPerMm: z.number(),
  marks: z.array(markShape),
  groups: z.array(z.object({ marks: z.array(z.number()), kind: z.string(), distinct: pair })),
  distinct: pair,
  clutter: z.array(z.string()),
})

export type TruthFile = z.infer<typeof truthShape>
export type TruthMark = z.infer<typeof markShape>
