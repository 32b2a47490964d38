import { readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import type { DriveFigures } from '#core/decide/drive/drive-figures'
import { figuresOfRests, type MeasuredDocument } from '#core/decide/drive/figures-of-rests'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

const finite = z.number()
const schema = z.object({
  motor: z.object({ name: z.string().nullish(), stepsPerRev: z.int().min(1), microsteps: z.int().min(1) }),
  rests: z.array(z.object({ command: finite, errorDeg: finite.nullable(), incrementMicrosteps: finite.nullable() })),
  figures: z.object({
    effectiveMicrosteps: z.object({ value: finite.nullable(), low: finite.nullable(), high: finite.nullable() }).nullable(),
  }),
  modes: z.array(
    z.object({
      microsteps: z.int().min(1),
      verdict: z.enum(['holds', 'fails', 'not proven']),
      worstIncrement: z.array(finite.nullable()).nullable(),
    }),
  ),
  directions: z.object({ reversalDeg: finite.nullable() }).nullish().transform((value) => value ?? null),
  uncertainty: z.object({ markDeg: finite.nullable() }).nullish().transform((value) => value ?? null),
})

/** A result.json, or the one inside an evidence folder, as text. */
export const readResultText = async (path: string): Promise<string | Unmeasurable> => {
  try {
    const folder = (await stat(path)).isDirectory()
    return await readFile(folder ? join(path, 'result.json') : path, 'utf8')
  } catch (error) {
    const why = error instanceof Error && 'code' in error && error.code === 'ENOENT' ? 'there is no such file' : 'it cannot be opened'
    return unmeasurable(why, path, 'give a result.json or the evidence folder it is in')
  }
}

const parse = (text: string): MeasuredDocument | null => {
  try {
    return schema.parse(JSON.parse(text))
  } catch {
    return null
  }
}

/** The motor and its drive figures from a result document on disk. */
export const readDriveFigures = async (path: string): Promise<{ readonly motor: MeasuredDocument['motor']; readonly figures: DriveFigures } | Unmeasurable> => {
  const text = await readResultText(path)
  if (typeof text !== 'string') return text
  const document = parse(text)
  return document
    ? { motor: document.motor, figures: figuresOfRests(document) }
    : unmeasurable('it is not a result document', path, 'give the result.json that measure wrote')
}
