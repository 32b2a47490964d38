import type { TraceMark } from './trace.ts'

/** Share of the commands that must stand there more than once; fewer are slips of the pen, which are asked about. */
const mostly = 0.8

/** Rows whose command was numbered again and again, with nothing said about passes. */
const isRepeated = (marks: readonly TraceMark[]): boolean => {
  if (!marks.every(({ command, direction, pass }) => command !== null && direction === null && pass === 1)) return false
  const times = new Map<number, number>()
  for (const { command } of marks) times.set(command ?? 0, (times.get(command ?? 0) ?? 0) + 1)
  return [...times.values()].filter((count) => count > 1).length >= mostly * times.size
}

/** Which way the commands count from row to row: +1, −1, or 0 where one stands again. */
const waysOf = (marks: readonly TraceMark[]): number[] => marks.slice(1).map(({ command }, i) => Math.sign((command ?? 0) - (marks[i]?.command ?? 0)))

/** The same command again and again before the next one: its first mark is of the first pass, and so on. */
const inTurn = (marks: readonly TraceMark[]): TraceMark[] => {
  const times = new Map<number, number>()
  return marks.map((mark) => {
    const pass = (times.get(mark.command ?? 0) ?? 0) + 1
    times.set(mark.command ?? 0, pass)
    return { ...mark, pass }
  })
}

/** There and back, or again from the start: a pass ends where the count turns or jumps back. A rest at the turn that has one mark serves both ways. */
const oneAfterAnother = (marks: readonly TraceMark[], ways: readonly number[]): TraceMark[] => {
  const numbered: TraceMark[] = []
  let [pass, direction]: [number, 1 | -1] = [1, (ways.find((way) => way !== 0) ?? 1) < 0 ? -1 : 1]
  for (const [i, mark] of marks.entries()) {
    const before = marks[i - 1]
    const way = i === 0 ? direction : (ways[i - 1] ?? 0)
    const jumped = before !== undefined && Math.abs((mark.command ?? 0) - (before.command ?? 0)) > 1
    const again = way === 0
    if (before && (again || way !== direction)) {
      const turned = !jumped
      const next: 1 | -1 = turned ? (direction === 1 ? -1 : 1) : direction
      if (next === 1 || !turned) pass++
      direction = next
      if (turned && !again) numbered.push({ ...before, pass, direction })
    }
    numbered.push({ ...mark, pass, direction })
  }
  return numbered
}

/**
 * Passes numbered where the command column alone tells them: nearly every command stands there more than once, with no pass and
 * no direction said. Other rows come back as they are.
 * @param marks in the order of the file
 */
export const numberPasses = (marks: readonly TraceMark[]): readonly TraceMark[] => {
  if (marks.length < 6 || !isRepeated(marks)) return marks
  const ways = waysOf(marks)
  return ways.filter((way) => way === 0).length >= marks.length / 3 ? inTurn(marks) : oneAfterAnother(marks, ways)
}
