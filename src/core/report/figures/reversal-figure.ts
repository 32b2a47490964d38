import { extremes } from '#core/numeric/moments'
import { plainNumber } from '#core/report/number-text'
import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { axisOf } from './axis.ts'
import { chart, type Figure } from './chart.ts'
import { lineEntry, markerEntry, markers } from './marker.ts'
import { path, px } from './svg.ts'

/** Reversal value by command: mean forward minus mean backward; null with one direction. */
export const reversalFigure = ({ directions }: Result): Figure | null => {
  if (directions === null || directions.perCommand.length === 0) return null
  const values = directions.perCommand.map(({ reversalDeg }) => reversalDeg)
  const commands = directions.perCommand.map(({ command }) => command)
  const [low, high] = extremes(values)
  const y = axisOf(Math.min(0, low), Math.max(0, high), { label: 'reversal value at the shaft, deg', rounded: true })
  const x = axisOf(...extremes(commands), { label: 'command k, count', most: 10, whole: true })
  const entries = [markerEntry('moved', 'forward minus backward'), lineEntry('mean', palette.merged, '7 4')]
  return chart({ name: 'reversal', title: 'Reversal value by command', x, y, entries, note: `mean ${plainNumber(directions.reversalDeg, 3)}°` }, ({ area, atX, atY }) => {
    const level = (value: number, stroke: string, dash: string): string => path(`M${area.left} ${px(atY(value))}H${area.right}`, { stroke, 'stroke-width': 1.5, 'stroke-dasharray': dash })
    return level(0, palette.nominal, '2 3') + level(directions.reversalDeg, palette.merged, '7 4') + markers('moved', values.map((value, i) => [atX(commands[i] ?? 0), atY(value)] as const), values.length > 400 ? 0.6 : 1)
  })
}
