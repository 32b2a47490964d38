import { median } from '#core/numeric/median'
import type { DetectedMark } from './detection.ts'

/** A gap between neighbours in the list, with their numbers as they stand on the overlay. */
interface Gap {
  readonly after: number
  readonly before: number
  readonly size: number
}

const placeOf = (mark: DetectedMark): number => mark.angleDeg ?? mark.positionPx ?? 0

/** Gaps in order; a full turn's last gap closes it when it is not the widest by far. */
const gapsOf = (marks: readonly DetectedMark[]): Gap[] => {
  const gaps = marks.slice(1).map((mark, i): Gap => ({ after: i + 1, before: i + 2, size: placeOf(mark) - placeOf(marks[i] as DetectedMark) }))
  const first = marks[0]
  const last = marks[marks.length - 1]
  if (first === undefined || last === undefined || first.angleDeg === null) return gaps
  const closing = 360 - placeOf(last) + placeOf(first)
  return closing < 3 * median(gaps.map((g) => g.size)) ? [...gaps, { after: marks.length, before: 1, size: closing }] : gaps
}

const list = (items: readonly string[]): string => (items.length > 6 ? `${items.slice(0, 6).join(', ')} and ${items.length - 6} more` : items.join(', '))

/** What one would look at when marks are missing: the widest gaps, in units of the usual one. */
const missing = (marks: readonly DetectedMark[], lacking: number): string => {
  const gaps = gapsOf(marks)
  const usual = median(gaps.map((g) => g.size))
  const wide = gaps.filter((g) => g.size > 1.6 * usual).sort((a, b) => b.size - a.size)
  if (wide.length === 0) return 'no gap is wide enough to hold one: marks may lie on each other, or the expected number is too high'
  const room = wide.reduce((sum, g) => sum + Math.round(g.size / usual) - 1, 0)
  const names = list(wide.slice(0, Math.max(3, lacking)).map((g) => `${g.after}–${g.before} (${(g.size / usual).toFixed(1)} × the usual gap)`))
  return `look between marks ${names}${room >= lacking ? '' : '; these gaps hold fewer than are missing, so some marks may lie on each other'}`
}

/** Marks surer than this are not among those to go when there are too many. */
const SURE_ENOUGH = 0.9

/** Numbers of the least sure marks, as many as there are too many. */
const leastSure = (marks: readonly DetectedMark[], extra: number): number[] =>
  marks.map((mark, i) => ({ number: i + 1, confidence: mark.confidence })).sort((a, b) => a.confidence - b.confidence).slice(0, Math.max(0, extra)).filter((m) => m.confidence < SURE_ENOUGH).map((m) => m.number)

/** Less sure than any mark that is not doubtful. */
export const DOUBTFUL = 0.45

/** Where more marks were found than there can be, the least sure of them are doubtful: so many at least are no marks. */
export const doubtSurplus = (marks: readonly DetectedMark[], expected: number | undefined): DetectedMark[] => {
  const surplus = new Set(expected === undefined ? [] : leastSure(marks, marks.length - expected))
  return marks.map((mark, i) => (surplus.has(i + 1) ? { ...mark, confidence: Math.min(mark.confidence, DOUBTFUL) } : mark))
}

/** What one would look at when there are too many: the least sure marks and the narrowest gaps. */
const surplus = (marks: readonly DetectedMark[], extra: number): string => {
  const least = leastSure(marks, extra)
  const gaps = gapsOf(marks)
  const usual = median(gaps.map((g) => g.size))
  const narrow = gaps.filter((g) => g.size < 0.4 * usual).sort((a, b) => a.size - b.size).slice(0, Math.max(1, extra))
  const parts = [
    ...(least.length > 0 ? [`the least sure are marks ${list(least.map(String))}`] : []),
    ...(narrow.length > 0 ? [`the closest are marks ${list(narrow.map((g) => `${g.after} and ${g.before}`))}`] : []),
  ]
  return parts.length > 0 ? parts.join('; ') : 'none stands out: the expected number may be too low'
}

/**
 * Sentences about which marks to look at again: those of low confidence, and, against the expected number, which gaps look
 * doubled or which marks look spurious. Marks in order of angle or place; numbers are those on the overlay.
 */
export const explainCount = (marks: readonly DetectedMark[], expected: number | undefined): string[] => {
  const weak = marks.flatMap((mark, i) => (mark.confidence < 0.5 ? [String(i + 1)] : []))
  const held = marks.reduce((sum, mark) => sum + mark.multiplicity, 0)
  const several = marks.flatMap((mark, i) => (mark.multiplicity > 1 ? [`${i + 1} (${mark.multiplicity})`] : []))
  const doubts = [
    ...(weak.length > 0 ? [`${weak.length === 1 ? 'mark' : 'marks'} ${list(weak)} ${weak.length === 1 ? 'is' : 'are'} doubtful; look at the overlay and delete or keep ${weak.length === 1 ? 'it' : 'them'} in the marks file`] : []),
    ...(several.length > 0 ? [`by their width or ink, marks ${list(several)} may hold more than one rest position; that number is an estimate`] : []),
  ]
  if (expected === undefined || expected === marks.length || expected === held) return doubts
  const why = expected > marks.length ? missing(marks, expected - marks.length) : surplus(marks, marks.length - expected)
  return [...doubts, `${marks.length} marks were found where ${expected} were expected: ${why}`]
}

/**
 * Gaps that look doubled without any expected number: near twice the usual one where nearly all gaps are alike.
 * Says nothing for marks in uneven groups.
 */
export const oddGaps = (marks: readonly DetectedMark[]): string[] => {
  const gaps = gapsOf(marks)
  const usual = median(gaps.map((g) => g.size))
  const alike = gaps.filter((g) => Math.abs(g.size / usual - 1) < 0.25).length
  if (gaps.length < 8 || alike < 0.85 * gaps.length) return []
  const wide = gaps.filter((g) => g.size > 1.7 * usual && g.size < 4.4 * usual)
  const narrow = gaps.filter((g) => g.size < 0.35 * usual)
  return [
    ...(wide.length > 0 ? [`a mark may be missing between ${list(wide.map((g) => `${g.after} and ${g.before}`))}: the gap is ${wide.length === 1 ? `${((wide[0] as Gap).size / usual).toFixed(1)} times` : 'about twice'} the usual one`] : []),
    ...(narrow.length > 0 ? [`marks ${list(narrow.map((g) => `${g.after} and ${g.before}`))} lie much closer than the others: one may be no mark, or a second stroke`] : []),
  ]
}
