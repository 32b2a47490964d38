import type { Assignment } from './assignment.ts'

/** Other countings looked at, the likeliest first; a mode that holds or fails in all of them does so beyond reasonable doubt. */
const most = 12

/**
 * The counting with one mark given another number: its neighbours make way as far as they must, so that numbers still rise.
 * @param lastCommand number of the last command at each mark
 * @param open the last mark may move, up to `commands` less one: a run that goes round, where the start mark takes the last one
 * @returns null where the first or last mark would have to move that cannot
 */
export const withOtherNumber = (lastCommand: readonly number[], place: number, number: number, { commands, open }: { readonly commands: number; readonly open: boolean }): number[] | null => {
  const counts = lastCommand.map((count, m) => (m === place ? number : count))
  for (let m = place + 1; m < counts.length; m++) counts[m] = Math.max(counts[m] as number, (counts[m - 1] as number) + 1)
  for (let m = place - 1; m >= 0; m--) counts[m] = Math.min(counts[m] as number, (counts[m + 1] as number) - 1)
  const last = counts.at(-1) ?? 0
  const fits = counts[0] === lastCommand[0] && (open ? last < commands : last === lastCommand.at(-1))
  return fits ? counts : null
}

/**
 * The countings that marks allow nearly as well as the chosen one: for each mark in doubt the one with its other number, and
 * the one with all of them, each once; numbers that labels have settled stay.
 * @param doubts by place of the mark
 */
export const otherCounts = (
  { lastCommand, commands, closed }: Pick<Assignment, 'lastCommand' | 'commands' | 'closed'>,
  doubts: readonly { readonly place: number; readonly couldBe: number; readonly logOdds: number }[],
): (readonly number[])[] => {
  const bounds = { commands, open: closed }
  const likely = doubts.toSorted((a, b) => a.logOdds - b.logOdds)
  const single = likely.slice(0, most).map(({ place, couldBe }) => withOtherNumber(lastCommand, place, couldBe, bounds))
  const all = doubts.reduce<readonly number[]>((counts, { place, couldBe }) => withOtherNumber(counts, place, couldBe, bounds) ?? counts, lastCommand)
  const found = new Map([...single, all].flatMap((counts) => (counts === null ? [] : [[counts.join(), counts] as const])))
  found.delete(lastCommand.join())
  return [...found.values()]
}
