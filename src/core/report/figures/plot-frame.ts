import { palette } from '#core/report/palette'
import { type Axis, scaleOf, tickText } from './axis.ts'
import { path, px, words } from './svg.ts'

/** Where the plot stands in the picture, px. */
export interface Area {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

export interface PlotFrame {
  readonly area: Area
  readonly atX: (value: number) => number
  readonly atY: (value: number) => number
  /** Grid, to be drawn first. */
  readonly under: string
  /** Axis lines, numbers and labels, to be drawn last. */
  readonly over: string
}

const numbers = (x: Axis, y: Axis, { left, bottom }: Area, at: Pick<PlotFrame, 'atX' | 'atY'>): string => {
  const below = x.ticks.map((tick) => words(tickText(x, tick), at.atX(tick), bottom + 18, { anchor: 'middle', size: 12, fill: palette.quiet }))
  const beside = y.ticks.map((tick) => words(tickText(y, tick), left - 8, at.atY(tick) + 4, { anchor: 'end', size: 12, fill: palette.quiet }))
  return [...below, ...beside].join('')
}

/** Two axes with grid, numbers and labels. */
export const plotFrame = (x: Axis, y: Axis, area: Area): PlotFrame => {
  const { left, right, top, bottom } = area
  const atX = scaleOf(x, left, right)
  const atY = scaleOf(y, bottom, top)
  const grid = [...x.ticks.map((tick) => `M${px(atX(tick))} ${top}V${bottom}`), ...y.ticks.map((tick) => `M${left} ${px(atY(tick))}H${right}`)].join('')
  const labels = words(x.label, (left + right) / 2, bottom + 42, { anchor: 'middle' }) + words(y.label, left - 58, (top + bottom) / 2, { anchor: 'middle', turn: -90 })
  return {
    area,
    atX,
    atY,
    under: path(grid, { stroke: palette.grid }),
    over: path(`M${left} ${top}V${bottom}H${right}`, { stroke: palette.quiet }) + numbers(x, y, area, { atX, atY }) + labels,
  }
}
