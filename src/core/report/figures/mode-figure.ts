import { modeName } from '#core/decide/recommend'
import { intervalText } from '#core/report/number-text'
import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { axisOf } from './axis.ts'
import { chartWidth, type Figure } from './chart.ts'
import { bandEntry, legend, lineEntry } from './marker.ts'
import { plotFrame, type PlotFrame } from './plot-frame.ts'
import { path, px, svgDocument, words } from './svg.ts'

type Mode = Result['modes'][number]

const rowHeight = 34
const look = {
  holds: { word: '✓ holds', colour: palette.moved, dash: undefined },
  fails: { word: '✕ fails', colour: palette.reversed, dash: undefined },
  'not proven': { word: '? not proven', colour: palette.nominal, dash: '4 3' },
} as const

/** The interval as a bar with ends, an arrow where it runs out of the picture. */
const intervalBar = ({ worstIncrement, verdict }: Mode, { area, atX }: PlotFrame, y: number): string => {
  if (!worstIncrement) return ''
  const { colour, dash } = look[verdict]
  const [from, to] = worstIncrement.map((value) => Math.min(area.right, Math.max(area.left, atX(value)))) as [number, number]
  const end = (x: number, outside: boolean, way: 1 | -1): string => (outside ? `M${px(x - 7 * way)} ${y - 6}L${px(x)} ${y}l${-7 * way} 6` : `M${px(x)} ${y - 7}v14`)
  const ends = end(from, atX(worstIncrement[0]) < area.left, -1) + end(to, atX(worstIncrement[1]) > area.right, 1)
  return path(`M${px(from)} ${y}H${px(Math.max(to, from + 2))}`, { stroke: colour, 'stroke-width': 5, 'stroke-dasharray': dash }) + path(ends, { stroke: colour, 'stroke-width': 2 })
}

const row = (mode: Mode, frame: PlotFrame, y: number): string =>
  words(modeName(mode.microsteps), frame.area.left - 10, y + 4, { anchor: 'end' }) +
  intervalBar(mode, frame, y) +
  words(look[mode.verdict].word, frame.area.right + 14, y + 4, { bold: true }) +
  words(mode.worstIncrement ? intervalText(mode.worstIncrement) : '–', frame.area.right + 142, y + 4, { size: 12, fill: palette.quiet })

/** Worst increment of every step mode with its U against the limits, and the verdict in words. */
export const modeFigure = (result: Result): Figure => {
  const { low, high } = result.settings.incrementLimits
  const height = 130 + rowHeight * result.modes.length
  const ends = result.modes.flatMap(({ worstIncrement }) => worstIncrement ?? [])
  const x = axisOf(Math.max(-1, Math.min(0, ...ends)), Math.min(high + 1.5, Math.max(2, ...ends)), { label: 'worst increment ± U, in nominal increments of the mode', rounded: true })
  const frame = plotFrame(x, { low: 0, high: 1, ticks: [], decimals: 0, label: '' }, { left: 120, right: chartWidth - 270, top: 66, bottom: height - 58 })
  const { area, atX } = frame
  const inside = path(`M${px(atX(low))} ${area.top}H${px(atX(high))}V${area.bottom}H${px(atX(low))}Z`, { fill: palette.band, 'fill-opacity': 0.14 })
  const nominal = path(`M${px(atX(1))} ${area.top}V${area.bottom}`, { stroke: palette.nominal, 'stroke-dasharray': '2 3' })
  const head = words('Step modes against the limits', 20, 28, { size: 16, bold: true }) + legend([bandEntry(`limits ${low} to ${high}`, palette.band), lineEntry('nominal', palette.nominal, '2 3')], area.left, 50)
  const columns = words('verdict', area.right + 14, 58, { size: 11, fill: palette.quiet }) + words('worst, in nominal', area.right + 142, 58, { size: 11, fill: palette.quiet })
  const rows = result.modes.map((mode, i) => row(mode, frame, area.top + rowHeight * (i + 0.5) + 3)).join('')
  const title = 'Step modes against the limits'
  return { name: 'modes', title, svg: svgDocument({ width: chartWidth, height, title }, head + columns + inside + frame.under + nominal + rows + frame.over) }
}
