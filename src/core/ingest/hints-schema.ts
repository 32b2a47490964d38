import * as z from 'zod'
import type { Hints } from '#core/detect/detection'

const point = z.tuple([z.number(), z.number()])
const length = z.number().positive()

/** Hints as they come from outside: a page, a manifest. Unknown keys are refused, so that no hint is lost in silence. */
export const hintsSchema = z.strictObject({
  rig: z.enum(['pointer', 'mirror']).exactOptional(),
  paperMm: z.tuple([length, length]).exactOptional(),
  centrePx: point.exactOptional(),
  cornersPx: z.tuple([point, point, point, point]).exactOptional(),
  expectedMarks: z.int().positive().exactOptional(),
  radiusRangePx: point.exactOptional(),
  ink: z.enum(['dark', 'light']).exactOptional(),
  scalePx: z.strictObject({ from: point, to: point, mm: length }).exactOptional(),
  tickMm: length.exactOptional(),
  ignorePx: z.array(z.strictObject({ x: z.number(), y: z.number(), width: z.number(), height: z.number() })).max(1000).exactOptional(),
}) satisfies z.ZodType<Hints>
