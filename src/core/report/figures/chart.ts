import { palette } from '#core/report/palette'
import type { Axis } from './axis.ts'
import { type LegendEntry, legend } from './marker.ts'
import { type Area, type PlotFrame, plotFrame } from './plot-frame.ts'
import { svgDocument, words } from './svg.ts'

/** A static picture that needs no browser and no installed font. */
export interface Figure {
  /** File name without extension. */
  readonly name: string
  readonly title: string
  readonly svg: string
}

export interface ChartSpec {
  readonly name: string
  readonly title: string
  readonly x: Axis
  readonly y: Axis
  readonly entries?: readonly LegendEntry[]
  /** A quiet line under everything: how the picture was thinned, what a unit is worth. */
  readonly note?: string
  readonly left?: number
  readonly right?: number
  readonly height?: number
}

export const chartWidth = 880
export const chartHeight = 440

/** Title, legend, axes and a note around what is drawn inside. */
export const chart = (spec: ChartSpec, inside: (frame: PlotFrame) => string): Figure => {
  const { name, title, x, y, entries = [], note = '', left = 86, right = chartWidth - 24, height = chartHeight } = spec
  const area: Area = { left, right, top: entries.length > 0 ? 74 : 50, bottom: height - 76 }
  const frame = plotFrame(x, y, area)
  const head = words(title, 20, 28, { size: 16, bold: true }) + legend(entries, left, 54)
  const foot = note === '' ? '' : words(note, right, height - 10, { anchor: 'end', size: 11, fill: palette.quiet })
  return { name, title, svg: svgDocument({ width: chartWidth, height, title }, head + frame.under + inside(frame) + frame.over + foot) }
}
