import type { Raster } from '#core/detect/raster'
import type { Candidate } from './candidate.ts'

/** Sine of the greatest angle between pieces of one ruled line. */
const PARALLEL = 0.035
/** A chain of pieces this many times the candidate's own length, at least a third of it inked, is no pen mark. */
const LONG = 4
const INKED = 0.35

const coverage = (spans: readonly (readonly [number, number])[]): number => {
  let covered = 0
  let end = Number.NEGATIVE_INFINITY
  for (const [from, to] of [...spans].sort((a, b) => a[0] - b[0])) {
    covered += Math.max(0, to - Math.max(from, end))
    end = Math.max(end, to)
  }
  return covered
}

/** Is this candidate one of many pieces that follow each other along one straight line, as rules, folds and edges do? */
const isPiece = (one: Candidate, others: readonly Candidate[]): boolean => {
  const { middle, along, lengthPx } = one
  const spans: [number, number][] = []
  for (const other of others) {
    if (Math.abs(along[0] * other.along[1] - along[1] * other.along[0]) > PARALLEL + 1 / Math.min(lengthPx, other.lengthPx)) continue
    const dx = other.middle[0] - middle[0]
    const dy = other.middle[1] - middle[1]
    const aside = Math.abs(dx * along[1] - dy * along[0])
    const t = dx * along[0] + dy * along[1]
    if (aside > 2 + 0.5 * one.widthPx + 0.012 * Math.abs(t) || other.depth > 3 * one.depth || other.depth < one.depth / 3) continue
    spans.push([t - other.lengthPx / 2, t + other.lengthPx / 2])
  }
  if (spans.length < 3) return false
  const extent = Math.max(...spans.map((s) => s[1])) - Math.min(...spans.map((s) => s[0]))
  return extent > LONG * lengthPx && coverage(spans) > INKED * extent
}

/** Splits off the candidates that are pieces of long straight lines: rules, squares, folds, edges. */
export const splitLongLines = (candidates: readonly Candidate[]): { readonly short: Candidate[]; readonly pieces: Candidate[] } => {
  const pieces = new Set(candidates.filter((c) => isPiece(c, candidates)))
  return { short: candidates.filter((c) => !pieces.has(c)), pieces: [...pieces] }
}

/**
 * The lines on the paper without the pieces of such as go on to where no mark may lie, as rules do to the paper's edge: taken alone, the
 * pieces may not look like one line.
 * @param found all that were seen, those on the paper among them
 */
export const endingWithin = (found: readonly Candidate[], onPaper: readonly Candidate[]): Candidate[] => {
  const piecesOf = (lines: readonly Candidate[]): Set<Candidate> => new Set(splitLongLines(lines).pieces)
  const among = found.length === onPaper.length ? new Set() : piecesOf(found)
  if (!onPaper.some((c) => among.has(c))) return [...onPaper]
  const alone = piecesOf(onPaper)
  return onPaper.filter((c) => alone.has(c) || !among.has(c))
}

/** Lines longer than this share of the picture's longer side are ruling, not marks. */
const RULED = 1 / 3

/** The candidates without those that run through a good part of the picture. */
export const notRuled = (candidates: readonly Candidate[], { width, height }: Raster): Candidate[] => candidates.filter((c) => c.lengthPx < RULED * Math.max(width, height))
