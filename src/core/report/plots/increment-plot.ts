import { extremes } from '#core/numeric/moments'
import { missingCommands } from '#core/report/missing-positions'
import { palette } from '#core/report/palette'
import { kindOf, movesOf, type RestKind, restKinds } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { kindNames, markerLook } from './marker-look.ts'
import { layoutOf, type PlotSpec, short, titled } from './plot-spec.ts'

const ofKind = (result: Result, kind: RestKind): Readonly<Record<string, unknown>>[] => {
  const moves = movesOf(result)
  const shown = moves.flatMap((rest, i) => (kindOf(rest) === kind ? [{ k: i + 1, rest }] : []))
  if (shown.length === 0) return []
  return [
    {
      type: 'scatter',
      mode: 'markers',
      name: `${kindNames[kind]}: ${shown.length}`,
      x: shown.map(({ k }) => k),
      y: shown.map(({ rest }) => short(rest.incrementMicrosteps)),
      customdata: shown.map(({ rest }) => short(rest.incrementUMicrosteps)),
      hovertemplate: `command %{x}: %{y:.3~f} ± %{customdata:.2~f} microsteps<extra>${kindNames[kind]}</extra>`,
      marker: markerLook(kind, moves.length > 400 ? 0.7 : 1),
    },
  ]
}

/** What each command moved, in microsteps, against nominal and the limits. */
export const incrementPlot = (result: Result): PlotSpec => {
  const missing = missingCommands(result)
  const { low, high } = result.settings.incrementLimits
  const across = (y: number, dash: string): object => ({ type: 'line', xref: 'paper', x0: 0, x1: 1, y0: y, y1: y, line: { color: palette.limit, width: 1.2, dash } })
  const named = (y: number, text: string): object => ({ xref: 'paper', x: 1.01, y, text, showarrow: false, xanchor: 'left', yanchor: 'middle' })
  const lowest = Math.min(0, extremes(movesOf(result).map(({ incrementMicrosteps }) => incrementMicrosteps ?? 0))[0])
  const gaps = { type: 'scatter', mode: 'markers', name: `${kindNames.missing}: ${missing.length}`, x: missing, y: missing.map(() => lowest - 0.3), hovertemplate: 'nominal position of command %{x}: no rest near it<extra></extra>', marker: markerLook('missing', missing.length > 200 ? 0.6 : 0.9) }
  return {
    id: 'increments',
    title: 'Increment of each command against nominal',
    data: [...restKinds.flatMap((kind) => ofKind(result, kind)), ...(missing.length > 0 ? [gaps] : [])],
    layout: layoutOf(titled('command k'), titled('increment, microsteps'), { margin: { l: 64, r: 78, t: 40, b: 56 }, shapes: [across(low, 'dash'), across(1, 'solid'), across(high, 'dash')], annotations: [named(low, `limit ${low}`), named(1, 'nominal 1'), named(high, `limit ${high}`)] }),
  }
}
