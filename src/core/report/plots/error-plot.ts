import { palette } from '#core/report/palette'
import { expandedErrorU, microstepDegOf, movesOf } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { layoutOf, type PlotSpec, short, titled } from './plot-spec.ts'

const along = { type: 'scatter', x0: 1, dx: 1 }

/** Edge of a band: two invisible lines, the second filled down to the first. */
const band = (name: string, color: string, lows: readonly number[], highs: readonly number[]): Readonly<Record<string, unknown>>[] => {
  const edge = { ...along, mode: 'lines', line: { width: 0 }, hoverinfo: 'skip', legendgroup: name }
  return [
    { ...edge, y: lows.map(short), showlegend: false },
    { ...edge, y: highs.map(short), fill: 'tonexty', fillcolor: color, name },
  ]
}

/** One upright stroke per command from its earliest to its latest reading. */
const jumps = (lows: readonly number[], highs: readonly number[]): Readonly<Record<string, unknown>>[] => [
  { type: 'scatter', mode: 'lines', name: 'jump first to jump last', x: lows.flatMap((_, i) => [i + 1, i + 1, null]), y: lows.flatMap((low, i) => [short(low), short(highs[i]), null]), line: { color: palette.merged, width: 2 }, hoverinfo: 'skip' },
]

/** Position error by command with its U band; where jumps are open, from the earliest to the latest reading. */
export const errorPlot = (result: Result): PlotSpec => {
  const moves = movesOf(result)
  const u = moves.map((rest) => expandedErrorU(result, rest))
  const lows = moves.map(({ errorRangeDeg }) => errorRangeDeg[0])
  const highs = moves.map(({ errorRangeDeg }) => errorRangeDeg[1])
  const shown = {
    ...along,
    mode: moves.length > 400 ? 'lines' : 'lines+markers',
    name: result.assignment.jumpsUnknown ? 'error if the jump came first' : 'position error',
    y: moves.map(({ errorDeg }) => short(errorDeg)),
    line: { color: palette.moved, width: 1.2 },
    marker: { size: 5 },
    hovertemplate: 'command %{x}: %{y:.4~f}°<extra></extra>',
  }
  const open = result.assignment.jumpsUnknown ? jumps(lows, highs) : []
  return {
    id: 'position-error',
    title: 'Position error by command',
    data: [...band(`± U, coverage factor ${Number(result.uncertainty.coverageFactor.toPrecision(3))}`, 'rgba(47, 127, 182, 0.22)', lows.map((low, i) => low - (u[i] ?? 0)), highs.map((high, i) => high + (u[i] ?? 0))), ...open, shown],
    layout: layoutOf(titled(`command k (1 microstep = ${Number(microstepDegOf(result).toPrecision(5))}°)`), { ...titled('position error at the shaft, deg'), zeroline: true }),
  }
}
