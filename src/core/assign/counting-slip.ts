import { countingMisfit, type CountingModel } from './counting-misfit.ts'

/** A mark too many or too few in a row of marks that otherwise holds one command each. */
export interface CountingSlip {
  readonly kind: 'doubled' | 'left out'
  /** Place of the mark that is one too many, or before which one is missing. */
  readonly place: number
}

/** Places tried first, evenly spaced, before the best of them is closed in on. */
const coarse = 48
/** Log of the odds asked for over the number of places. */
const decisive = 5
/** Marks on either side that must stand off, at least, and full steps: fewer might be marks badly placed, or uneven teeth. */
const ends = { marks: 4, fullSteps: 2 }
/** With less than two cycles the pattern cannot be taken out, and may itself look like a slip: what is left must then be next to none, microsteps². */
const nearlyEven = 0.02
/** Fewer marks say nothing. */
const fewest = 16

const ascending = (length: number): number[] => Array.from({ length }, (_, m) => m)

const misfitWith = (positions: readonly number[], { kind, place }: CountingSlip, model: CountingModel): number =>
  kind === 'doubled'
    ? countingMisfit(positions.filter((_, m) => m !== place), ascending(positions.length - 1), model)
    : countingMisfit(positions, ascending(positions.length).map((m) => (m < place ? m : m + 1)), model)

/** The place with the least misfit: on a grid, then ever closer round its best. */
const bestPlace = (positions: readonly number[], kind: CountingSlip['kind'], model: CountingModel): { slip: CountingSlip; misfit: number } => {
  const from = Math.max(ends.marks, ends.fullSteps * model.microsteps)
  const to = positions.length - from
  let reach = Math.max(1, Math.ceil((to - from) / coarse))
  const tried = (place: number) => ({ slip: { kind, place }, misfit: misfitWith(positions, { kind, place }, model) })
  const least = (places: readonly number[]) => places.map(tried).reduce((a, b) => (b.misfit < a.misfit ? b : a))
  let best = least(ascending(coarse + 1).map((i) => Math.min(to, from + i * reach)))
  while (reach > 1) {
    const step = Math.max(1, Math.floor(reach / 8))
    const near = ascending(2 * Math.ceil(reach / step) + 1).map((i) => best.slip.place - reach + i * step)
    best = least([best.slip.place, ...near.filter((place) => place >= from && place <= to)])
    reach = step === reach ? 1 : step
  }
  return best
}

/** Scatter of neighbours, which a slip hardly enters: half the mean square of second differences over three, from cycle to cycle where there are two. */
const quickScatter = (errors: readonly number[], period: number): number => {
  const changes = errors.length >= 2 * period ? errors.slice(period).map((error, m) => (error - (errors[m] ?? 0)) / Math.SQRT2) : errors
  const seconds = changes.slice(2).map((error, m) => error - 2 * (changes[m + 1] ?? 0) + (changes[m] ?? 0))
  return seconds.reduce((sum, each) => sum + each * each, 0) / seconds.length / 6
}

/** Slow errors of the rig, a dial off its centre or a wrong scale, follow a curve of this degree over the trace nearly enough; a step does not. */
const slowCurve = 3

/**
 * Whether a mark was drawn twice or left out. A motor in step repeats its pattern every four full steps, so marks that from
 * some place on stand a whole microstep off it have been miscounted there.
 * @param positions marks in microsteps, one command each as counted
 * @returns null where one more or one less explains nothing
 */
export const countingSlip = (positions: readonly number[], model: CountingModel): CountingSlip | null => {
  const marks = positions.length
  if (marks < Math.max(fewest, 5 * model.microsteps)) return null
  const counted = countingMisfit(positions, ascending(marks), { ...model, bend: slowCurve })
  if (counted / marks < Math.max(0.02, 1.2 * quickScatter(positions.map((position, m) => position - m), 4 * model.microsteps))) return null
  const folds = marks > 8 * model.microsteps
  const best = (['doubled', 'left out'] as const).map((kind) => bestPlace(positions, kind, model)).reduce((a, b) => (b.misfit < a.misfit ? b : a))
  const gain = (marks / 2) * Math.log(counted / Math.max(best.misfit, 1e-9 * marks))
  const plain = folds || best.misfit / marks < nearlyEven
  return plain && gain > Math.log(2 * marks) + decisive ? best.slip : null
}
