import type { Detection, Hints } from '#core/detect/detection'
import { readNumber } from '#core/quantity/read-number'

const papers: Readonly<Record<string, readonly [number, number]>> = { a4: [210, 297], letter: [215.9, 279.4] }

/** What is known about a photo without pointing at it, as chosen and typed. */
export interface Known {
  readonly paper: string
  /** Width and height of another size, mm. */
  readonly size: string
  readonly rig: string
  readonly marks: string
  readonly ink: string
  readonly tick: string
}

/** Another size of paper as typed; null when it is none. */
export const sizeOf = (text: string): readonly [number, number] | null => {
  const values = text.replace(/mm\s*$/, '').split(/[\s×x;]+/).filter(Boolean).map((part) => readNumber(part))
  const [width, height] = values
  return values.length === 2 && width && height && width > 10 && height > 10 ? [width, height] : null
}

const tickOf = (text: string): Pick<Hints, 'tickMm'> => {
  const tickMm = readNumber(text)
  return tickMm !== null && tickMm > 0 ? { tickMm } : {}
}

export const hintsOfKnown = ({ paper, size, rig, marks, ink, tick }: Known): Hints => {
  const paperMm = paper === 'other' ? sizeOf(size) : papers[paper]
  return {
    ...(paperMm ? { paperMm } : {}),
    ...(rig === 'pointer' || rig === 'mirror' ? { rig } : {}),
    ...(Number(marks) > 0 && Number.isInteger(Number(marks)) ? { expectedMarks: Number(marks) } : {}),
    ...(ink === 'dark' || ink === 'light' ? { ink } : {}),
    ...(rig === 'mirror' ? tickOf(tick) : {}),
  }
}

const paperNamed = ({ paperMm }: Hints): string => (paperMm === undefined ? '' : (Object.keys(papers).find((name) => papers[name]?.join() === paperMm.join()) ?? 'other'))

/** What was told before, so that looking again begins from it. */
export const knownBefore = (hints: Hints, found: Detection | null = null): Known => ({
  paper: paperNamed(hints),
  size: paperNamed(hints) === 'other' ? (hints.paperMm ?? []).join(' × ') : '',
  rig: hints.rig ?? (found?.rig === 'mirror' ? 'mirror' : ''),
  marks: hints.expectedMarks === undefined ? '' : String(hints.expectedMarks),
  ink: hints.ink ?? '',
  tick: hints.tickMm === undefined ? '' : String(hints.tickMm),
})

/** What was drawn on a photo holds for that photo only. */
export const drawnIn = ({ centrePx, cornersPx, radiusRangePx, ignorePx, scalePx }: Hints): Hints => ({
  ...(centrePx ? { centrePx } : {}), ...(cornersPx ? { cornersPx } : {}), ...(radiusRangePx ? { radiusRangePx } : {}), ...(ignorePx ? { ignorePx } : {}), ...(scalePx ? { scalePx } : {}),
})
