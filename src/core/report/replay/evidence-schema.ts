import * as z from 'zod'
import { hintsSchema } from '#core/ingest/hints-schema'

const hash = z.string().regex(/^[0-9a-f]{64}$/)

/** Where the figures were computed; elsewhere the last digits of a sine may differ. */
export const platformSchema = z.object({ node: z.string(), v8: z.string(), os: z.string(), arch: z.string() })
export type Platform = z.infer<typeof platformSchema>

/** The manifest of an evidence folder (interface "stepwitness/evidence@1"): how it came about, and what every file of it was. */
export const evidenceSchema = z.object({
  schema: z.literal('stepwitness/evidence@1'),
  tool: z.object({ name: z.literal('stepwitness'), version: z.string() }),
  platform: platformSchema,
  input: z.object({
    kind: z.enum(['typed', 'photo']),
    name: z.string(),
    sha256: hash,
    bytes: z.number(),
    /** File of this folder that holds the input; null for a photo. */
    keptAs: z.string().nullable(),
    /** Where the input was, seen from this folder; null when it came from the page. */
    at: z.string().nullable(),
  }),
  options: z.object({
    /** Set-up given beside the input, which won over what stands in it; by the keys of a trace file. */
    setUp: z.array(z.tuple([z.string(), z.string()])),
    /** What was told about the photo; null when not known (page) or no photo. */
    hints: hintsSchema.nullable(),
    seed: z.number(),
    intervals: z.enum(['sampled', 'linear']),
    incrementLimits: z.object({ low: z.number(), high: z.number() }),
    train: z.string().nullable(),
  }),
  /** Changes made to the marks by hand; each stands in result.json, detection.edited. */
  handEdits: z.number(),
  files: z.record(z.string(), z.object({ sha256: hash, bytes: z.number() })),
  /** SHA-256 of this document without its seal. It finds a slip, not a forger: replay renders every file again for that. */
  seal: hash,
})

export type EvidenceManifest = z.infer<typeof evidenceSchema>

/** The text that a seal is taken of. */
export const sealedText = ({ seal: _seal, ...rest }: EvidenceManifest | Omit<EvidenceManifest, 'seal'> & { readonly seal?: string }): string => JSON.stringify(rest)
