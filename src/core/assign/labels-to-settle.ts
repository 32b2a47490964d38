import { countGaps } from '#core/numeric/count-gaps'
import type { GapProblem } from '#core/numeric/gap-table'

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

/** Most labels asked for; beyond that a person had better number them all. */
const mostAsked = 8
/** A longer group of neighbours in doubt gets its middle mark labelled, a shorter one the mark that settles most of it. */
const mostTried = 7
const mostRounds = 3

const withLabel = (problem: GapProblem, place: number, count: number): GapProblem => ({
  ...problem,
  known: problem.positions.map((_, m) => (m === place ? count : (problem.known?.[m] ?? null))),
})

const groupsOf = (open: readonly number[]): number[][] => {
  const groups: number[][] = []
  for (const place of open) {
    const last = groups.at(-1)
    if (last && place - (last.at(-1) ?? 0) <= 1) last.push(place)
    else groups.push([place])
  }
  return groups
}

/** A group with a settled mark on either side, as a problem of its own. */
const windowOf = ({ positions, known }: GapProblem, counts: readonly number[], group: readonly number[]): { problem: GapProblem; from: number } => {
  const from = Math.max(0, (group[0] ?? 0) - 1)
  const to = Math.min(positions.length - 1, (group.at(-1) ?? 0) + 1)
  const [start = 0, first = 0] = [positions[from], counts[from]]
  const own = known?.slice(from, to + 1).map((count) => (count === null ? null : count - first))
  return { from, problem: { positions: positions.slice(from, to + 1).map((x) => x - start), total: (counts[to] ?? 0) - first, ...(own ? { known: own } : {}) } }
}

/** Marks still open when the label confirms the number and when it says the other: the worse of the two. */
const leftOpen = (problem: GapProblem, place: number, judgement: Judgement): number => {
  const fit = countGaps(problem)
  if (!fit) return 0
  const outcomes = [fit.counts[place] ?? 0, fit.alternatives[place] ?? 0].map((count) => countGaps(withLabel(problem, place, count)))
  return Math.max(...outcomes.map((outcome) => (outcome ? openPlaces(outcome.margins, judgement).length : 0)))
}

const labelFor = (problem: GapProblem, counts: readonly number[], group: readonly number[], judgement: Judgement): number => {
  const middle = group[group.length >> 1] ?? 0
  if (group.length === 1 || group.length > mostTried) return middle
  const { problem: own, from } = windowOf(problem, counts, group)
  const [best] = group.map((place) => ({ place, open: leftOpen(own, place - from, judgement) })).sort((a, b) => a.open - b.open || Math.abs(a.place - middle) - Math.abs(b.place - middle))
  return best?.place ?? middle
}

/**
 * A short list of marks to number by hand so that all others follow: one for each group of neighbours in doubt, the one
 * that leaves fewest of them open whichever way it turns out; then again with these settled, where any are left.
 * @param open marks in doubt, by place
 * @returns places of the marks; more than eight are not listed
 */
export const labelsToSettle = (problem: GapProblem, open: readonly number[], judgement: Judgement): number[] => {
  const groups = groupsOf(open)
  if (groups.length > mostAsked) return groups.slice(0, mostAsked).map((group) => group[group.length >> 1] ?? 0)
  const asked: number[] = []
  let current = problem
  let left = open
  for (let round = 0; round < mostRounds && left.length > 0 && asked.length < mostAsked; round++) {
    const { counts } = countGaps(current) ?? { counts: [] }
    const labels = groupsOf(left).map((group) => labelFor(current, counts, group, judgement))
    asked.push(...labels)
    for (const place of labels) current = withLabel(current, place, counts[place] ?? 0)
    left = openPlaces(countGaps(current)?.margins ?? [], judgement)
  }
  return asked.sort((a, b) => a - b).slice(0, mostAsked)
}
