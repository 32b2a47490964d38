import { type Disc, nearDiscs } from '#core/numeric/near-discs'
import { weightedQuantile } from '#core/numeric/weighted-quantile'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Candidate } from '#core/detect/line/candidate'
import type { DetectedMark, Detection, Hints } from './detection.ts'
import type { Surface } from './surface.ts'

type Line = Pick<Candidate, 'middle' | 'along' | 'lengthPx' | 'widthPx' | 'depth'>

/** A line on a mark runs its way to within this sine; a rule that crosses it does not. */
const OWN_WAY = 0.35
/** And is not this many times longer: a rule through a mark is no mark. */
const TOO_LONG = 3

type Inked = Pick<DetectedMark, 'p0' | 'p1' | 'widthPx'>

/** Is a line the ink of this mark, or a part of it? */
export const covers = ({ p0, p1, widthPx }: Inked, { middle: [x, y], along, lengthPx }: Line): boolean => {
  const length = Math.hypot(p1[0] - p0[0], p1[1] - p0[1]) || 1
  const [ux, uy] = [(p1[0] - p0[0]) / length, (p1[1] - p0[1]) / length]
  if (lengthPx > TOO_LONG * length || Math.abs(along[0] * uy - along[1] * ux) > OWN_WAY) return false
  const [dx, dy] = [x - (p0[0] + p1[0]) / 2, y - (p0[1] + p1[1]) / 2]
  return Math.abs(dx * uy - dy * ux) < 1.5 * widthPx + 1 && Math.abs(dx * ux + dy * uy) < 0.7 * length
}

/** Farther from a mark's middle than this, px, no line's middle is on it. */
const farthestOf = ({ p0, p1, widthPx }: Inked): Disc => [(p0[0] + p1[0]) / 2, (p0[1] + p1[1]) / 2, 0.7 * Math.hypot(p1[0] - p0[0], p1[1] - p0[1]) + 1.5 * widthPx + 2]

const alike = (a: number, b: number): boolean => a > 0.5 * b && a < 2 * b

/** How many lines look like the marks, and how many marks there are among them. */
export interface Company {
  readonly like: number
  readonly taken: number
}

/**
 * The marks that were seen as lines, and beside them the other lines of the marks' length, width and darkness; null where hardly any were. What
 * the marks are like is told by most of their ink: where rules cross them there are more bits than strokes.
 */
export const companyOf = (lines: readonly Line[], marks: readonly Inked[]): Company | null => {
  const near = nearDiscs(lines, ({ middle: [x, y] }) => [x, y, 0])
  const onMarks = marks.map((mark) => near(farthestOf(mark)).map((i) => lines[i] as Line).filter((line) => covers(mark, line)))
  const isOwn = new Set(onMarks.flat())
  const own = lines.filter((line) => isOwn.has(line))
  if (own.length < 2) return null
  const usual = (get: (line: Line) => number): number => weightedQuantile(own, 0.5, get, (line) => line.lengthPx)
  const [length, width, depth] = [usual((l) => l.lengthPx), usual((l) => l.widthPx), usual((l) => l.depth)]
  const others = lines.filter((l) => !isOwn.has(l) && alike(l.lengthPx, length) && alike(l.widthPx, width) && alike(l.depth, depth))
  const taken = onMarks.filter((covered) => covered.length > 0).length
  return { like: taken + others.length, taken }
}

/** In a trace most lines of the marks' kind are marks (simulated and real photos: 0.44 and more); in text, squares or straw few are (0.13 and less). */
const FEW = 0.25
const NOT_MOST = 0.45
const LEAST_OTHERS = 12

/** Are there so many other lines like them that they may have been picked by chance? */
const amongMany = ({ like, taken }: Company, share: number): boolean => like - taken >= LEAST_OTHERS && taken < share * like

/** Are a row's strokes few among lines of their kind, as letters are in writing? */
export const pickedByChance = (lines: readonly Line[], row: readonly Pick<Candidate, 'p0' | 'p1' | 'widthPx'>[]): boolean => {
  const company = companyOf(lines, row)
  return company !== null && amongMany(company, FEW)
}

/** What a person said, and what the marks are on. */
interface Marked {
  readonly hints: Hints
  readonly surface: Pick<Surface, 'sheet'>
}

const told = ({ rig, centrePx, radiusRangePx }: Hints): boolean => rig !== undefined || centrePx !== undefined || radiusRangePx !== undefined

/**
 * A pattern picked from many lines of the same kind is chance: writing, squared paper, a keyboard. Then there is no trace, unless a
 * person said where it is; then, and where it is not clear, it is doubted. A printed sheet says that it is one.
 * @param lines every thin straight line that could have been a mark
 */
export const amongOthers = (seen: Detection, lines: readonly Line[], { hints, surface }: Marked): Detection | Unmeasurable => {
  const company = surface.sheet !== null ? null : companyOf(lines, seen.marks)
  if (company === null || !amongMany(company, NOT_MOST)) return seen
  const what = `only ${company.taken} of the ${company.like} lines in the picture that look like the marks are among them: writing, a pattern or squared paper may have been read instead of a trace`
  const remedy = 'say where the marks are with --rig, --centre and --radius-range, leave out what is no mark with --ignore, or photograph the marks alone'
  return amongMany(company, FEW) && !told(hints) ? unmeasurable(what, 'photo', remedy) : { ...seen, doubts: [`${what}; ${remedy}`, ...seen.doubts] }
}
