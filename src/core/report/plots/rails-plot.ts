import { missingCommands } from '#core/report/missing-positions'
import { palette } from '#core/report/palette'
import { kindOf, microstepDegOf, type RestKind, restKinds } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { placeDeg, worstStretch } from '#core/report/worst-stretch'
import { kindNames, markerLook } from './marker-look.ts'
import { layoutOf, type PlotSpec, short, titled } from './plot-spec.ts'

const threadColour: Readonly<Record<RestKind, string>> = { moved: palette.moved, merged: palette.merged, reversed: palette.reversed, unjudged: palette.nominal }

/** From nominal (below) to rest (above), one thread per command of a kind. */
const threads = (result: Result, kind: RestKind): Readonly<Record<string, unknown>>[] => {
  const microstep = microstepDegOf(result)
  const commands = result.rests.flatMap((rest, k) => (k > 0 && kindOf(rest) === kind ? [k] : []))
  if (commands.length === 0) return []
  const base = { type: 'scatter', legendgroup: kind }
  const hover = `command %{customdata}: rests at %{x}°<extra>${kindNames[kind]}</extra>`
  return [
    { ...base, mode: 'lines', x: commands.flatMap((k) => [short(microstep * k), short(placeDeg(result, k)), null]), y: commands.flatMap(() => [0, 1, null]), line: { color: threadColour[kind], width: 1 }, hoverinfo: 'skip', showlegend: false },
    { ...base, mode: 'markers', name: `${kindNames[kind]}: ${commands.length}`, x: commands.map((k) => short(placeDeg(result, k))), y: commands.map(() => 1), customdata: commands.map((k) => result.rests[k]?.command ?? k), hovertemplate: hover, marker: markerLook(kind) },
  ]
}

/** Every command from where it should stand to where it rests; opens on the stretch about the largest error. */
export const railsPlot = (result: Result): PlotSpec => {
  const microstep = microstepDegOf(result)
  const { from, to } = worstStretch(result)
  const missing = missingCommands(result)
  const gaps = { type: 'scatter', mode: 'markers', name: `${kindNames.missing}: ${missing.length}`, x: missing.map((k) => short(k * microstep)), y: missing.map(() => 0), customdata: missing, hovertemplate: 'nominal position of command %{customdata}: no rest near it<extra></extra>', marker: markerLook('missing') }
  return {
    id: 'rails',
    title: 'From nominal position to rest',
    data: [...restKinds.flatMap((kind) => threads(result, kind)), ...(missing.length > 0 ? [gaps] : [])],
    layout: layoutOf({ ...titled('angle from the start mark, deg'), range: [(from - 1) * microstep, (to + 1) * microstep] }, { tickvals: [0, 1], ticktext: ['nominal', 'rests'], range: [-0.2, 1.25], fixedrange: true, showgrid: false }, { height: 340 }),
  }
}
