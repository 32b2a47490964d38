import { countGaps, type GapProblem } from '#core/numeric/count-gaps'

/** How a counting is judged. */
export interface Judgement {
  /** Σ of squared misfits per mark that marking and motor leave, microsteps². */
  readonly noise: number
  /** Log odds from which a number counts as settled. */
  readonly decisive: number
}

/** Marks (by place) whose number could as well be another. */
export const openPlaces = (margins: readonly number[], { noise, decisive }: Judgement): number[] =>
  margins.flatMap((margin, place) => (margin / (2 * noise) < decisive ? [place] : []))

/** Most labels tried at each step, and most asked for; beyond that a person had better number them all. */
const tried = 10
const mostAsked = 8
/** With more marks than this only neighbours in doubt are gathered, one label for each group. */
const mostExact = 400

const withLabel = (problem: GapProblem, place: number, count: number): GapProblem => ({
  ...problem,
  known: problem.positions.map((_, m) => (m === place ? count : (problem.known?.[m] ?? null))),
})

interface Labelled {
  readonly place: number
  readonly problem: GapProblem
  /** Marks still open when the label confirms the number, and when it says the other: the worse of the two. */
  readonly open: number
  readonly places: readonly number[]
}

const tryLabel = (problem: GapProblem, place: number, judgement: Judgement): Labelled | null => {
  const fit = countGaps(problem)
  if (!fit) return null
  const confirmed = withLabel(problem, place, fit.counts[place] ?? 0)
  const outcomes = [confirmed, withLabel(problem, place, fit.alternatives[place] ?? 0)].map((each) => {
    const counted = countGaps(each)
    return counted ? openPlaces(counted.margins, judgement) : []
  })
  return { place, problem: confirmed, open: Math.max(...outcomes.map((places) => places.length)), places: outcomes[0] ?? [] }
}

const byGroups = (open: readonly number[]): number[] => {
  const groups: number[][] = []
  for (const place of open) {
    const last = groups.at(-1)
    if (last && place - (last.at(-1) ?? 0) <= 1) last.push(place)
    else groups.push([place])
  }
  return groups.map((group) => group[group.length >> 1] ?? 0)
}

/**
 * A shortest list of marks to number by hand so that all others follow: at each step the label that leaves the fewest
 * marks open, whichever way it turns out. Found step by step, so on rare occasions one longer than need be.
 * @param open marks in doubt, by place
 * @returns places of the marks; more than eight are not listed
 */
export const labelsToSettle = (problem: GapProblem, open: readonly number[], judgement: Judgement): number[] => {
  if (problem.positions.length > mostExact) return byGroups(open).slice(0, mostAsked)
  const asked: number[] = []
  let current = problem
  let left = open
  while (left.length > 0 && asked.length < mostAsked) {
    const step = Math.max(1, Math.floor(left.length / tried))
    const trials = left.filter((_, i) => i % step === 0).slice(0, tried + 1).flatMap((place) => tryLabel(current, place, judgement) ?? [])
    const [best] = trials.toSorted((a, b) => a.open - b.open)
    if (!best) break
    asked.push(best.place)
    current = best.problem
    left = best.places.filter((place) => !asked.includes(place))
  }
  return asked.sort((a, b) => a - b)
}
