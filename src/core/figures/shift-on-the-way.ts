import { dealtOut } from '#core/numeric/dealt-out'
import { mean } from '#core/numeric/moments'
import { twoDigits } from '#core/quantity/write-number'

export interface ShiftOptions {
  readonly microsteps: number
  /** Commands of one turn of a dial; null along a scale or wall. */
  readonly perTurn: number | null
  /** Standard uncertainty of one mark, deg. */
  readonly uDeg: number
}

/** Paper or pointer moved while one run was being marked. */
export interface ShiftOnTheWay {
  readonly kind: 'slip' | 'creep'
  /** First rest behind the slip; 0 of a creep, which has no place. */
  readonly place: number
  readonly deg: number
}

/** Electrical cycles wanted on either side of a slip. */
const beside = 2
/** Standard errors beyond which no place out of thousands comes by chance, even where neighbours share some of theirs. */
const beyond = 6
/** One shift must leave no more than the scatter of neighbours, but for three standard deviations of the two: what comes and goes again is no slip. */
const unexplained = 3

const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, value, k) => sum + value * (b[k] ?? 0), 0)

/** Each value about the mean of its phase: what repeats from cycle to cycle goes. */
const aboutPhases = (values: readonly number[], period: number): number[] => {
  const means = dealtOut(values, period).map(mean)
  return values.map((value, k) => value - (means[k % period] ?? 0))
}

const without = (values: readonly number[], basis: readonly (readonly number[])[]): number[] =>
  basis.reduce<number[]>((left, column) => {
    const share = dot(left, column)
    return left.map((value, k) => value - share * (column[k] ?? 0))
  }, [...values])

const isWhole = (rests: number, { perTurn }: ShiftOptions): boolean => perTurn !== null && rests > perTurn

/** What a rig bends smoothly, made orthonormal: a whole dial four waves per turn; part of one two, and a bend; a scale or wall a curve of fourth degree. */
const smooth = (rests: number, options: ShiftOptions): number[][] => {
  const { perTurn } = options
  const column = (at: (k: number) => number): number[] => Array.from({ length: rests }, (_, k) => at(k))
  const waves = (highest: number): number[][] =>
    Array.from({ length: highest }, (_, order) => [Math.cos, Math.sin].map((wave) => column((k) => wave((2 * Math.PI * (order + 1) * k) / (perTurn ?? rests))))).flat()
  const curve = (degree: number): number[][] => Array.from({ length: degree }, (_, power) => column((k) => ((2 * k) / rests - 1) ** (power + 1)))
  const columns = isWhole(rests, options) ? waves(4) : perTurn === null ? curve(4) : [...curve(2), ...waves(2)]
  const basis: number[][] = []
  for (const each of columns) {
    const rest = without(without(aboutPhases(each, 4 * options.microsteps), basis), basis)
    const length = Math.sqrt(dot(rest, rest))
    if (length > 1e-6 * Math.sqrt(rests)) basis.push(rest.map((value) => value / length))
  }
  return basis
}

/** Sums from each place to the end. */
const fromHere = (values: readonly number[]): number[] => {
  let total = 0
  return values.toReversed().map((value) => (total += value)).reverse()
}

/** A shape that a shift may have: what it explains, deg², and its size. */
interface Found extends ShiftOnTheWay {
  readonly explains: number
}

const slips = (residuals: readonly number[], basis: readonly (readonly number[])[], period: number): Found[] => {
  const [sums, ofBasis] = [fromHere(residuals), basis.map(fromHere)]
  const counts = dealtOut(residuals, period).map((each) => each.length)
  const behind = counts.map(() => 0)
  const found: Found[] = []
  for (let place = residuals.length - 1; place >= beside * period; place--) {
    const phase = place % period
    behind[phase] = (behind[phase] ?? 0) + 1
    if (residuals.length - place < beside * period) continue
    const own = behind.reduce((sum, count, each) => sum + count - (count * count) / (counts[each] ?? 1), 0)
    const left = own - ofBasis.reduce((sum, column) => sum + (column[place] ?? 0) ** 2, 0)
    const share = sums[place] ?? 0
    if (left > 1e-6 * own) found.push({ kind: 'slip', place, deg: share / left, explains: (share * share) / left })
  }
  return found
}

/** A turn that ends elsewhere than it began: a straight line, which no wave of a dial makes. */
const creep = (residuals: readonly number[], basis: readonly (readonly number[])[], period: number): Found => {
  const line = without(aboutPhases(residuals.map((_, k) => k / (residuals.length - 1)), period), basis)
  const [left, share] = [dot(line, line), dot(line, residuals)]
  return { kind: 'creep', place: 0, deg: share / left, explains: (share * share) / left }
}

/** Scatter of single rests, which nothing slow enters: neighbours' differences over √2. */
const quickScatter = (values: readonly number[]): number => Math.sqrt(mean(values.slice(1).map((value, k) => (value - (values[k] ?? 0)) ** 2)) / 2)

/**
 * A place from which all marks of a run stand further on or back, or a turn that does not close, beyond the motor's repeating
 * pattern and what a rig bends smoothly. A motor in step comes back to its pattern; it was the paper or the pointer.
 * @param errorsDeg e_0 … e_K of one run
 * @returns null with too few cycles, where chance or the marks explain it, or where one shift does not explain what is seen
 */
export const shiftOnTheWay = (errorsDeg: readonly number[], options: ShiftOptions): ShiftOnTheWay | null => {
  const period = 4 * options.microsteps
  if (errorsDeg.length - 1 < 2 * beside * period) return null
  const basis = smooth(errorsDeg.length, options)
  const residuals = without(aboutPhases(errorsDeg, period), basis)
  const tries = [...slips(residuals, basis, period), ...(isWhole(errorsDeg.length, options) ? [creep(residuals, basis, period)] : [])]
  const best = tries.reduce<Found | null>((most, next) => (most && most.explains >= next.explains ? most : next), null)
  if (!best) return null
  const freedom = errorsDeg.length - period - basis.length - 1
  const left = Math.sqrt(Math.max(0, dot(residuals, residuals) - best.explains) / freedom)
  const scatter = Math.max(options.uDeg, quickScatter(residuals))
  const plain = best.explains > (beyond * Math.max(left, options.uDeg)) ** 2 && Math.abs(best.deg) > scatter
  return plain && left < scatter * (1 + unexplained / Math.sqrt(freedom)) ? { kind: best.kind, place: best.place, deg: best.deg } : null
}

/** How far from a whole microstep a slip must be, in microsteps, to be none that a command lost or made twice would leave. */
const offWhole = 0.15

/** A slip of no whole number of microsteps: no command that went missing, and no number that was skipped, leaves one. */
export const isOfPaper = ({ kind, deg }: ShiftOnTheWay, microstepDeg: number): boolean => kind === 'creep' || Math.abs(deg / microstepDeg - Math.round(deg / microstepDeg)) > offWhole

/** What to say of it. @param commands of rests 0 … K */
export const shiftSentence = (shift: ShiftOnTheWay | null, commands: readonly number[]): string[] => {
  if (!shift) return []
  const size = `${twoDigits(Math.abs(shift.deg))}°`
  const seen = shift.kind === 'slip' ? `From about command ${commands[shift.place]} on all marks stand ${size} ${shift.deg > 0 ? 'further on' : 'further back'}` : `From the first mark to the last they move ${shift.deg > 0 ? 'on' : 'back'} by ${size}`
  const did = shift.kind === 'slip' ? 'slipped there' : 'crept'
  return [`${seen}, which neither a motor in step nor a dial off its centre does: paper or pointer ${did}. Nothing was taken off for it, so errors, effective count and verdicts read worse than the motor is. Fasten both and repeat the run.`]
}
