import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { median, robustSpread } from '#core/numeric/median'
import type { MeanRun } from './mean-run.ts'
import type { StrayMark } from './stray-marks.ts'

/** A rest of one pass that stands off what the other passes show at the same command. */
export interface StrayRepeat extends StrayMark {
  readonly command: number
  /** The pass it belongs to; of two passes it cannot be said which. */
  readonly pass: number | null
  /** It was made on the way back. */
  readonly back: boolean
}

/** A rest held against the middle of its command's others scatters by this much more than a mark. */
const widened = 1.25
/** Chance that marks as good as stated show any stray at all. */
const falseAlarm = 0.02
/** More strays than this share of the marks are no strays. */
const mostShare = 0.02

/** Rests about the middle of their command, one row per pass; the two passes of two differ by one row. */
const aboutMiddle = ({ table, offsetsDeg }: MeanRun): number[][] => {
  const rows = table.map((row, p) => row.map((angle) => angle - (offsetsDeg[p] ?? 0)))
  const [first = [], second] = rows
  if (rows.length === 2) return [first.map((angle, k) => angle - (second?.[k] ?? 0))]
  const middles = first.map((_, k) => median(rows.map((row) => row[k] ?? 0)))
  return rows.map((row) => row.map((angle, k) => angle - (middles[k] ?? 0)))
}

/** Scatter of single rests, from how far those of one pass are off the next pass; strays hardly enter. */
const scatterOf = ({ table }: MeanRun): number => {
  const apart = table.slice(1).flatMap((row, p) => {
    const changes = row.map((angle, k) => angle - (table[p]?.[k] ?? 0))
    const middle = median(changes)
    return changes.map((change) => change - middle)
  })
  return robustSpread(apart) / Math.SQRT2
}

/**
 * Rests that one of several passes has elsewhere than the others: slips of the hand or of the pen, digits typed the wrong way
 * round, or a shaft that hung once.
 * @param uDeg standard uncertainty of one mark in one pass, deg; 0 when unknown
 * @returns furthest first; the start mark, which lies anywhere in the dead band, is left out; empty with one pass, or where so many stand off that none is alone
 */
export const strayRepeats = (run: MeanRun, uDeg: number): StrayRepeat[] => {
  if (run.table.length < 2) return []
  const off = aboutMiddle(run)
  const centred = off.map((row) => {
    const middle = median(row)
    return row.map((each) => each - middle)
  })
  const all = centred.flat()
  const scatter = Math.max(uDeg, scatterOf(run)) * widened * (off.length === 1 ? Math.SQRT2 : 1)
  const reach = -normalQuantile(falseAlarm / 2 / all.length, 0, 1) * scatter
  const found = centred.flatMap((row, p) =>
    row.flatMap((offDeg, place) => (place > 0 && scatter > 0 && Math.abs(offDeg) > reach ? [{ place, offDeg, command: run.commands[place] ?? 0, pass: off.length === 1 ? null : (run.runs[p]?.pass ?? p + 1), back: run.runs[p]?.direction === -1 }] : [])),
  )
  return found.length > Math.max(2, mostShare * all.length) ? [] : found.sort((a, b) => Math.abs(b.offDeg) - Math.abs(a.offDeg))
}
