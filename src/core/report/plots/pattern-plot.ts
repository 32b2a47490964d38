import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { layoutOf, type PlotSpec, short, titled } from './plot-spec.ts'

/** The position errors folded over one electrical cycle, mean ± standard deviation; null for less than a cycle. */
export const patternPlot = (result: Result): PlotSpec | null => {
  const n = result.motor.microsteps
  const period = result.repeatPattern.periods.find(({ commands }) => commands === 4 * n)
  if (!period || result.rests.length - 1 < period.commands) return null
  const mean = [...period.meanDeg, period.meanDeg[0] ?? 0]
  const spread = [...period.spreadDeg, period.spreadDeg[0] ?? null]
  return {
    id: 'repeat-pattern',
    title: 'Pattern folded over one electrical cycle',
    data: [
      {
        type: 'scatter',
        mode: 'lines+markers',
        name: 'mean ± standard deviation from cycle to cycle',
        x0: 0,
        dx: 1,
        y: mean.map(short),
        error_y: { type: 'data', array: spread.map((value) => short(value) ?? 0), thickness: 1, width: 3, color: palette.moved },
        line: { color: palette.moved, width: 1.4 },
        marker: { size: 5 },
        hovertemplate: 'command %{x} of the cycle: %{y:.4~f}°<extra></extra>',
      },
    ],
    layout: layoutOf({ ...titled('command in the cycle, microsteps'), tickvals: [0, n, 2 * n, 3 * n, 4 * n], ticktext: [0, 1, 2, 3, 4].map((step) => `${step * n}<br>full step ${step}`) }, { ...titled('mean position error, deg'), zeroline: true }),
  }
}
