import type { TrueGroup } from './truth.ts'

/** Closer than this share of the stroke width, two marks read as one; farther than the second, as two. */
const ONE = 0.45
const TWO = 1.0

/**
 * Groups marks sorted along the trace by the distance between neighbours, in stroke widths.
 * `gaps[i]` stands between mark i and i + 1 (and, on a closed turn, the last one back to the first).
 */
export const groupMarks = (count: number, gaps: readonly number[], closed: boolean): readonly TrueGroup[] => {
  const runs: { marks: number[]; gaps: number[] }[] = []
  for (let i = 0; i < count; i++) {
    const gap = gaps[i - 1]
    const last = runs[runs.length - 1]
    if (last !== undefined && gap !== undefined && gap < 1.5) {
      last.marks.push(i)
      last.gaps.push(gap)
    } else runs.push({ marks: [i], gaps: [] })
  }
  const first = runs[0]
  const last = runs[runs.length - 1]
  const seam = gaps[count - 1]
  if (closed && seam !== undefined && seam < 1.5 && first !== undefined && last !== undefined && first !== last) {
    last.marks.push(...first.marks)
    last.gaps.push(seam, ...first.gaps)
    runs.shift()
  }
  return runs.map(({ marks, gaps: between }) => {
    const min = 1 + between.filter((g) => g >= TWO).length
    const max = 1 + between.filter((g) => g >= ONE).length
    const kind = marks.length === 1 ? 'single' : max === 1 ? 'merged' : min < max ? 'overlapping' : 'touching'
    return { marks, kind, distinct: [min, max] }
  })
}
