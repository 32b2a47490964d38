import type { LocatedMark } from '#core/rig/locate'

/** What a mark is called in a sentence after the word mark: its number from 1 on, with its line in the file where that is another. */
export const markName = ({ line, number = line }: Pick<LocatedMark, 'line' | 'number'>): string => (number === line ? `${line}` : `${number} (line ${line})`)

/** Name of the mark at a place of a run, counted back from its end where it is below 0; empty where there is none. */
export const markNameAt = (marks: readonly Pick<LocatedMark, 'line' | 'number'>[], place: number): string => {
  const mark = marks.at(place)
  return mark ? markName(mark) : ''
}
