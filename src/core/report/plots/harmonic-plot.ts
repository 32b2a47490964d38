import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { layoutOf, type PlotSpec, short, titled } from './plot-spec.ts'

/** Amplitude of every wave searched for, with two standard errors; null when none was fitted. */
export const harmonicPlot = (result: Result): PlotSpec | null => {
  const waves = [...result.figures.harmonics, ...result.rigFaults.removed]
  if (waves.length === 0) return null
  const named = waves.map(({ order, about }) => (about === 'turn' ? `${order} per turn (rig)` : `order ${order}`))
  return {
    id: 'harmonics',
    title: 'Harmonics of the position error',
    data: [
      {
        type: 'bar',
        name: 'amplitude ± 2 standard errors',
        x: named,
        y: waves.map(({ amplitudeDeg }) => short(amplitudeDeg)),
        error_y: { type: 'data', array: waves.map(({ standardErrorDeg }) => short(2 * standardErrorDeg)), color: palette.limit },
        text: waves.map(({ significant }) => (significant ? 'significant' : 'not significant')),
        textposition: 'none',
        marker: { color: waves.map(({ significant }) => (significant ? palette.moved : palette.nominal)), opacity: 0.7 },
        hovertemplate: '%{x}: %{y:.4~f}°, %{text}<extra></extra>',
      },
    ],
    layout: layoutOf({ type: 'category', ...titled('waves per electrical cycle or turn') }, { ...titled('amplitude, deg'), rangemode: 'nonnegative' }, { height: 340, bargap: 0.6 }),
  }
}
