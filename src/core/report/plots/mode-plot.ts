import { modeName } from '#core/decide/recommend'
import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { layoutOf, type PlotSpec, short, titled } from './plot-spec.ts'

const looks = {
  holds: { color: palette.moved, symbol: 'circle' },
  fails: { color: palette.reversed, symbol: 'x' },
  'not proven': { color: palette.nominal, symbol: 'circle-open' },
} as const

/** Worst increment of every step mode with its U, against the limits. */
export const modePlot = (result: Result): PlotSpec => {
  const { low, high } = result.settings.incrementLimits
  const names = result.modes.map(({ microsteps }) => modeName(microsteps))
  const traces = (['holds', 'fails', 'not proven'] as const).flatMap((verdict) => {
    const modes = result.modes.filter((mode) => mode.verdict === verdict && mode.worstIncrement !== null)
    if (modes.length === 0) return []
    const ends = modes.map(({ worstIncrement }): readonly [number, number] => worstIncrement ?? [0, 0])
    const half = ends.map(([from, to]) => short((to - from) / 2))
    return [{ type: 'scatter', mode: 'markers', name: verdict, y: modes.map(({ microsteps }) => modeName(microsteps)), x: ends.map(([from, to]) => short((from + to) / 2)), error_x: { type: 'data', array: half, thickness: 3, width: 7, color: looks[verdict].color }, marker: { ...looks[verdict], size: 9 }, customdata: half, hovertemplate: `%{y}: %{x:.3~f} ± %{customdata:.2~f} of nominal<extra>${verdict}</extra>` }]
  })
  const band = { type: 'rect', yref: 'paper', y0: 0, y1: 1, x0: low, x1: high, fillcolor: palette.band, opacity: 0.14, line: { width: 0 }, layer: 'below' }
  const ends = result.modes.flatMap(({ worstIncrement }) => worstIncrement ?? [])
  const [lowest, highest] = [Math.min(0, ...ends), Math.max(2, ...ends)]
  return {
    id: 'modes',
    title: 'Step modes against the limits',
    data: traces,
    layout: layoutOf({ ...titled('worst increment ± U, nominal 1'), range: [lowest - 0.1, highest + 0.1] }, { type: 'category', categoryorder: 'array', categoryarray: names.toReversed(), automargin: true, range: [-0.6, names.length - 0.4] }, { shapes: [band], height: 150 + 40 * names.length, showlegend: true }),
  }
}
