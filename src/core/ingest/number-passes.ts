import type { TraceMark } from './trace.ts'

/** Share of the commands that must stand there more than once; fewer are slips of the pen, which are asked about. */
const mostly = 0.8

/** Fewer rows than this are no pass. */
const fewest = 6

/** Rows whose command was numbered again and again. */
const isRepeated = (marks: readonly TraceMark[]): boolean => {
  if (marks.length < fewest || !marks.every(({ command }) => command !== null)) return false
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

/** Every return to the first direction begins another pass. */
const byDirection = (marks: readonly TraceMark[]): readonly TraceMark[] => {
  let pass = 1
  const numbered = marks.map((mark, i) => {
    if (i > 0 && mark.direction === marks[0]?.direction && marks[i - 1]?.direction !== mark.direction) pass++
    return { ...mark, pass }
  })
  return pass * fewest > marks.length ? marks : numbered
}

/** What numbering there is by command, of rows that lack pass and direction. */
const byCommand = (marks: readonly TraceMark[]): readonly TraceMark[] => {
  if (!isRepeated(marks)) return marks
  const ways = waysOf(marks)
  return ways.filter((way) => way === 0).length >= marks.length / 3 ? inTurn(marks) : oneAfterAnother(marks, ways)
}

/** A pass that counts up and down again without a word about direction; as it is where it would be more than one way there and back. */
const wayBack = (marks: readonly TraceMark[]): readonly TraceMark[] => {
  const numbered = byCommand(marks)
  return numbered.every(({ pass }) => pass === 1) ? numbered.map((mark) => ({ ...mark, pass: marks[0]?.pass ?? 1 })) : marks
}

/** Which way a pass counts all along, or 0. */
const wayOf = (marks: readonly TraceMark[]): number => {
  const ways = new Set(marks.every(({ command }) => command !== null) ? waysOf(marks) : [])
  return ways.size === 1 ? ([...ways][0] ?? 0) : 0
}

/** Numbered passes of which some count up and others down: there and back, whichever number each was given. */
const byCounting = (passes: readonly (readonly TraceMark[])[]): readonly TraceMark[] => {
  const ways = passes.map(wayOf)
  return passes.flatMap((marks, i) => (ways.includes(1) && ways.includes(-1) && !ways.includes(0) ? marks.map((mark) => ({ ...mark, direction: ways[i] === 1 ? 1 : -1 }) as const) : marks))
}

/**
 * Passes numbered, and directions told, where one of the two or both were left out and the other columns tell them: nearly every
 * command stands there more than once, or the direction changes again and again. Other rows come back as they are.
 * @param marks in the order of the file
 */
export const numberPasses = (marks: readonly TraceMark[]): readonly TraceMark[] => {
  const passes = [...new Set(marks.map(({ pass }) => pass))]
  const unnumbered = passes.every((pass) => pass === 1)
  if (marks.every(({ direction }) => direction !== null)) return unnumbered ? byDirection(marks) : marks
  if (marks.some(({ direction }) => direction !== null)) return marks
  if (unnumbered) return byCommand(marks)
  return byCounting(passes.map((pass) => wayBack(marks.filter((mark) => mark.pass === pass))))
}
