import { palette } from '#core/report/palette'
import { kindOf, movesOf } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { widthOf } from './marker.ts'
import type { PlotFrame } from './plot-frame.ts'
import { words } from './svg.ts'

interface Flag {
  readonly word: string
  readonly from: number
  readonly to: number
  readonly value: number
  readonly colour: string
}

/** Neighbouring commands of one kind as one flag: "merged 5 to 7". */
const runsOf = (commands: readonly number[]): (readonly [from: number, to: number])[] => {
  const runs: [number, number][] = []
  for (const k of commands) {
    const last = runs.at(-1)
    if (last && last[1] === k - 1) last[1] = k
    else runs.push([k, k])
  }
  return runs
}

const flagsOf = (result: Result, missing: readonly number[]): Flag[] => {
  const moves = movesOf(result)
  const ofKind = (kind: 'merged' | 'reversed'): number[] => moves.flatMap((rest, i) => (kindOf(rest) === kind ? [i + 1] : []))
  const flags = (word: string, colour: string, commands: readonly number[], at: (k: number) => number): Flag[] => runsOf(commands).map(([from, to]) => ({ word, from, to, colour, value: at(from) }))
  const increment = (k: number): number => moves[k - 1]?.incrementMicrosteps ?? 0
  return [...flags('reversed', palette.reversed, ofKind('reversed'), increment), ...flags('missing', palette.missing, missing, () => Number.NaN), ...flags('merged', palette.merged, ofKind('merged'), increment)]
}

/** Below a reversed mark where there is room above the missing ones, else above the mark. */
const besides = (y: number, below: boolean, bottom: number): number => (below && y + 17 < bottom - 26 ? y + 17 : y - 9)

const rangeText = ({ word, from, to }: Flag): string => (from === to ? `${word} ${from}` : `${word} ${from}–${to}`)

/**
 * Words beside the flags, as many as find room: reversed ones first, then missing, then merged, which stand in the thick of
 * the dots and cover none. The counts in the legend are complete either way.
 */
export const labelsFor = (result: Result, missing: readonly number[], { area, atX, atY }: PlotFrame): string => {
  const dots = movesOf(result).map(({ incrementMicrosteps }, i) => [atX(i + 1), atY(incrementMicrosteps ?? 0)] as const)
  const taken: { x: number; y: number; width: number }[] = []
  return flagsOf(result, missing)
    .map((flag) => {
      const text = rangeText(flag)
      const width = widthOf(text, 10)
      const x = Math.min(Math.max(atX((flag.from + flag.to) / 2), area.left + width / 2 + 2), area.right - width / 2 - 2)
      const y = Number.isNaN(flag.value) ? area.bottom - 14 : besides(atY(flag.value), flag.word === 'reversed', area.bottom)
      if (taken.some((other) => Math.abs(other.y - y) < 12 && Math.abs(other.x - x) < (other.width + width) / 2 + 6)) return ''
      if (flag.word === 'merged' && dots.some(([dotX, dotY]) => Math.abs(dotX - x) < width / 2 + 3 && Math.abs(dotY - (y - 4)) < 8)) return ''
      taken.push({ x, y, width })
      return words(text, x, y, { anchor: 'middle', size: 10, fill: palette.ink })
    })
    .join('')
}
