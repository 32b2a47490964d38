import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { markerLook } from './marker-look.ts'
import { layoutOf, type PlotSpec, short, titled } from './plot-spec.ts'

/** Reversal value by command: mean forward minus mean backward; null with one direction. */
export const reversalPlot = ({ directions }: Result): PlotSpec | null => {
  if (directions === null || directions.perCommand.length === 0) return null
  const { perCommand, reversalDeg } = directions
  const mean = { type: 'line', xref: 'paper', x0: 0, x1: 1, y0: reversalDeg, y1: reversalDeg, line: { color: palette.merged, width: 1.5, dash: 'dash' } }
  const named = { xref: 'paper', x: 1.01, y: reversalDeg, text: 'mean', showarrow: false, xanchor: 'left', yanchor: 'middle' }
  return {
    id: 'reversal',
    title: 'Reversal value by command',
    data: [{ type: 'scatter', mode: 'markers', name: 'forward minus backward', x: perCommand.map(({ command }) => command), y: perCommand.map((each) => short(each.reversalDeg)), hovertemplate: 'command %{x}: %{y:.4~f}°<extra></extra>', marker: markerLook('moved') }],
    layout: layoutOf(titled('command k'), { ...titled('reversal value at the shaft, deg'), zeroline: true, rangemode: 'tozero' }, { shapes: [mean], annotations: [named], margin: { l: 64, r: 64, t: 40, b: 56 } }),
  }
}
