import { missingCommands } from '#core/report/missing-positions'
import { palette } from '#core/report/palette'
import { kindOf, microstepDegOf, type RestKind } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { placeDeg } from '#core/report/worst-stretch'
import { kindNames, markerLook } from './marker-look.ts'
import { type PlotSpec, short } from './plot-spec.ts'

const radians = Math.PI / 180
const rounded = (value: number): number => Math.round(value * 1e5) / 1e5 + 0

/** Spokes between two radii as one line with gaps; radius 1 is the ring. */
const spokes = (angles: readonly number[], inner: number, outer: number): { readonly x: (number | null)[]; readonly y: (number | null)[] } => ({
  x: angles.flatMap((deg) => [rounded(inner * Math.cos(deg * radians)), rounded(outer * Math.cos(deg * radians)), null]),
  y: angles.flatMap((deg) => [rounded(inner * Math.sin(deg * radians)), rounded(outer * Math.sin(deg * radians)), null]),
})

/** Points on a circle that say on hovering which command they are. */
const points = (result: Result, commands: readonly number[], radius: number, kind: RestKind | 'missing'): Readonly<Record<string, unknown>> => {
  const angles = commands.map((k) => (kind === 'missing' ? microstepDegOf(result) * k : placeDeg(result, k)))
  return {
    type: 'scatter',
    mode: 'markers',
    name: `${kindNames[kind]}: ${commands.length}`,
    x: angles.map((deg) => rounded(radius * Math.cos(deg * radians))),
    y: angles.map((deg) => rounded(radius * Math.sin(deg * radians))),
    customdata: commands.map((k, i) => [result.rests[k]?.command ?? k, short(angles[i])]),
    hovertemplate: `command %{customdata[0]}: ${kind === 'missing' ? 'nominal' : 'rests at'} %{customdata[1]}°<extra>${kindNames[kind]}</extra>`,
    marker: markerLook(kind, commands.length > 400 ? 0.6 : 0.9),
  }
}

const line = (name: string, color: string, width: number, at: ReturnType<typeof spokes>): Readonly<Record<string, unknown>> => ({ type: 'scatter', mode: 'lines', name, ...at, line: { color, width }, hoverinfo: 'skip' })

/** What to show first: the whole dial, or the part of it that a shorter arc takes up. */
const viewOf = (span: number): readonly [x: readonly [number, number], y: readonly [number, number]] => {
  if (span > 150) return [[-1.3, 1.3], [-1.3, 1.3]]
  const angles = Array.from({ length: 41 }, (_, i) => ((span * i) / 40) * radians)
  const along = (part: (angle: number) => number): readonly [number, number] => {
    const reached = angles.flatMap((angle) => [0.7 * part(angle), 1.28 * part(angle)])
    return [rounded(Math.min(...reached) - 0.08), rounded(Math.max(...reached) + 0.08)]
  }
  return [along(Math.cos), along(Math.sin)]
}

/** The trace seen on its dial: nominal positions inside the ring, rests outside, counter-clockwise from the start mark at the right. */
export const dialPlot = (result: Result): PlotSpec => {
  const all = result.rests.map((_, k) => k)
  const ofKind = (kind: RestKind): number[] => all.filter((k) => k > 0 && kindOf(result.rests[k] as Result['rests'][number]) === kind)
  const fullSteps = all.filter((k) => microstepDegOf(result) >= 0.5 || k % result.motor.microsteps === 0)
  const turns = Array.from({ length: 24 }, (_, i) => i * 15).filter((deg) => (result.rests.length - 1) * microstepDegOf(result) <= 150 || deg % 45 === 0)
  const numbers = turns.map((deg) => ({ text: `${deg}°`, x: rounded(0.68 * Math.cos(deg * radians)), y: rounded(0.68 * Math.sin(deg * radians)), showarrow: false }))
  const [xRange, yRange] = viewOf((result.rests.length - 1) * microstepDegOf(result))
  const flagged = [['merged', 1.16] as const, ['reversed', 1.22] as const].map(([kind, radius]) => points(result, ofKind(kind), radius, kind))
  const axis = { showgrid: false, showticklabels: false, showline: false, ticks: '', zeroline: false }
  return {
    id: 'dial',
    title: 'The trace on its dial',
    data: [
      line(fullSteps.length < all.length ? 'nominal full steps' : 'nominal', palette.nominal, 0.8, spokes(fullSteps.map((k) => microstepDegOf(result) * k), 0.93, 0.99)),
      line('rests', palette.moved, 1, spokes(all.map((k) => placeDeg(result, k)), 1.01, 1.09)),
      { ...points(result, all.slice(1), 1.09, 'moved'), name: 'rests, for hovering', showlegend: false, marker: { size: 4, color: palette.moved } },
      ...flagged,
      points(result, missingCommands(result), 0.89, 'missing'),
    ],
    layout: {
      margin: { l: 8, r: 8, t: 40, b: 40 },
      height: 560,
      hovermode: 'closest',
      legend: { orientation: 'h', x: 0, y: 1.02, yanchor: 'bottom' },
      xaxis: { ...axis, range: xRange, scaleanchor: 'y', title: { text: 'angle at the shaft, deg' } },
      yaxis: { ...axis, range: yRange },
      annotations: numbers,
      shapes: [{ type: 'circle', x0: -1, y0: -1, x1: 1, y1: 1, line: { color: palette.nominal, width: 1 } }],
    },
  }
}
