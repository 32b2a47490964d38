import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { metric, metricCoarse, trapezoidal } from './standard-pitches.ts'

export interface Thread {
  readonly pitchMm: number
  readonly starts: number
  /** Set when the designation is not a listed standard size. */
  readonly warning: string | null
}

const metricText = /^M(\d+(?:\.\d+)?)(?:\s*[x×]\s*(\d+(?:\.\d+)?))?$/i
const trapeze = /^Tr\s*(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)(?:\s*\(?P\s*(\d+(?:\.\d+)?)\)?)?(?:\s*LH)?$/i

const readMetric = (text: string, diameter: number, fine: number, where: string): Thread | Unmeasurable => {
  const pitchMm = fine || metricCoarse.get(diameter)
  const listed = metric.get(diameter)?.includes(pitchMm ?? 0) ?? false
  return pitchMm
    ? { pitchMm, starts: 1, warning: listed ? null : `${text} is not in the table of metric threads (ISO 261); measure the pitch` }
    : unmeasurable(`no coarse pitch is on file for ${text}`, where, 'give the pitch too, such as M20x2.5')
}

const readTrapezoidal = (
  text: string,
  [diameter, lead, pitch]: readonly [number, number, number],
  where: string,
): Thread | Unmeasurable => {
  const pitchMm = pitch || lead
  const starts = lead / pitchMm
  if (!(pitchMm > 0) || Math.abs(starts - Math.round(starts)) > 1e-9 || starts < 1)
    return unmeasurable(
      `the lead of ${text} is not a whole number of pitches`,
      where,
      'write lead and pitch as in Tr8x8(P2)',
    )
  const listed = trapezoidal.get(diameter)?.includes(pitchMm) ?? false
  return {
    pitchMm,
    starts: Math.round(starts),
    warning: listed ? null : `${text} is not a listed ISO trapezoidal size; measure the lead`,
  }
}

/**
 * A thread's designation: M8 (coarse), M8x1 (fine), Tr10x2, Tr8x8(P2) (lead 8 mm, pitch 2 mm: four starts); LH is accepted
 * and changes nothing. Sizes outside the standard's list are read, with a warning.
 */
export const readThread = (text: string, where: string): Thread | Unmeasurable => {
  const m = metricText.exec(text.trim())
  if (m) return readMetric(text.trim(), Number(m[1]), Number(m[2] ?? 0), where)
  const t = trapeze.exec(text.trim())
  if (t) return readTrapezoidal(text.trim(), [Number(t[1]), Number(t[2]), Number(t[3] ?? 0)], where)
  return unmeasurable(
    `"${text}" is not a thread that can be read`,
    where,
    'write it like M8, M8x1, Tr10x2 or Tr8x8(P2)',
  )
}
