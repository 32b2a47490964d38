import type { Comparison, Ranked } from '#core/decide/compare/compare-motors'
import { axisOf } from '#core/report/figures/axis'
import { chartWidth, type Figure } from '#core/report/figures/chart'
import { plotFrame, type PlotFrame } from '#core/report/figures/plot-frame'
import { path, px, svgDocument, words } from '#core/report/figures/svg'
import { valueAndInterval } from '#core/report/number-text'
import { palette } from '#core/report/palette'

const rowHeight = 34
const longest = 30

const shortened = (label: string): string => (label.length > longest ? `${label.slice(0, longest - 1)}…` : label)

const looks = {
  meets: { word: '✓ meets', colour: palette.moved },
  open: { word: '? open', colour: palette.nominal },
  misses: { word: '✕ misses', colour: palette.reversed },
} as const

const bar = ({ positionsPerTurn: { value, low, high }, met }: Ranked, { atX }: PlotFrame, y: number): string => {
  const { colour } = looks[met]
  const ends = `M${px(atX(low))} ${y - 7}v14M${px(atX(high))} ${y - 7}v14`
  return path(`M${px(atX(low))} ${y}H${px(Math.max(atX(high), atX(low) + 1))}`, { stroke: colour, 'stroke-width': 3 }) + path(ends, { stroke: colour, 'stroke-width': 2 }) + path(`M${px(atX(value) - 5)} ${y}l5 -5l5 5l-5 5z`, { fill: colour })
}

const row = (ranked: Ranked, frame: PlotFrame, [y, asked]: readonly [number, boolean]): string =>
  words(`${ranked.rank}  ${shortened(ranked.label)}`, frame.area.left - 10, y + 4, { anchor: 'end' }) +
  bar(ranked, frame, y) +
  words(valueAndInterval(ranked.positionsPerTurn), frame.area.right + 14, y + 4, { size: 12, fill: palette.quiet }) +
  (asked ? words(looks[ranked.met].word, frame.area.right + 176, y + 4, { bold: true }) : '')

/** Effective positions per turn of every result with its 95 % interval, best first. */
export const compareFigure = ({ ranked, requirement }: Comparison): Figure => {
  const title = 'Effective positions per turn, with 95 % intervals'
  const height = 120 + rowHeight * ranked.length
  const most = Math.max(...ranked.map(({ positionsPerTurn }) => positionsPerTurn.high))
  const asked = Object.values(requirement).some((need) => need !== null)
  const x = axisOf(0, most * 1.05, { label: 'effective positions per turn (full steps × effective microsteps)', rounded: true })
  const frame = plotFrame(x, { low: 0, high: 1, ticks: [], decimals: 0, label: '' }, { left: 250, right: chartWidth - 270, top: 50, bottom: height - 62 })
  const needed = requirement.resolutionDeg === null ? null : 360 / requirement.resolutionDeg
  const line = needed === null || needed > x.high ? '' : path(`M${px(frame.atX(needed))} ${frame.area.top}V${frame.area.bottom}`, { stroke: palette.limit, 'stroke-dasharray': '5 4' }) + words('needed', frame.atX(needed), frame.area.top - 4, { anchor: 'middle', size: 11, fill: palette.quiet })
  const rows = ranked.map((each, i) => row(each, frame, [frame.area.top + rowHeight * (i + 0.5), asked])).join('')
  return { name: 'compare', title, svg: svgDocument({ width: chartWidth, height, title }, words(title, 20, 26, { size: 16, bold: true }) + frame.under + line + rows + frame.over) }
}
