import { extremes } from '#core/numeric/moments'
import { plainNumber } from '#core/report/number-text'
import { palette } from '#core/report/palette'
import { kindOf, movesOf, type RestKind, restKinds } from '#core/report/rest-kind'
import { missingCommands } from '#core/report/missing-positions'
import type { Result } from '#core/report/result-schema'
import { axisOf } from './axis.ts'
import { chart, chartWidth, type Figure } from './chart.ts'
import { labelsFor } from './increment-labels.ts'
import { type LegendEntry, markerEntry, markers } from './marker.ts'
import type { PlotFrame } from './plot-frame.ts'
import { path, px, words } from './svg.ts'

type Points = Readonly<Record<RestKind, readonly (readonly [number, number])[]>>

const pointsOf = (result: Result, { atX, atY }: PlotFrame): Points => {
  const points: Record<RestKind, [number, number][]> = { moved: [], merged: [], reversed: [], unjudged: [] }
  movesOf(result).forEach((rest, i) => {
    if (rest.incrementMicrosteps !== null) points[kindOf(rest)].push([atX(i + 1), atY(rest.incrementMicrosteps)])
  })
  return points
}

/** Every kind that occurs, with how often. */
const entriesOf = (result: Result, missing: number): LegendEntry[] => {
  const kinds = movesOf(result).map(kindOf)
  const counts = restKinds.map((kind) => [kind, kinds.filter((each) => each === kind).length] as const)
  const named = { moved: 'moved', merged: 'merged', reversed: 'reversed', unjudged: 'not judged' }
  return [...counts.filter(([, count]) => count > 0).map(([kind, count]) => markerEntry(kind, `${named[kind]}: ${count}`)), ...(missing > 0 ? [markerEntry('missing', `missing position: ${missing}`)] : [])]
}

const limitLines = ({ settings }: Result, { area, atY }: PlotFrame): string => {
  const { low, high } = settings.incrementLimits
  const lines = path(`M${area.left} ${px(atY(low))}H${area.right}M${area.left} ${px(atY(high))}H${area.right}`, { stroke: palette.limit, 'stroke-dasharray': '7 4' })
  const nominal = path(`M${area.left} ${px(atY(1))}H${area.right}`, { stroke: palette.nominal, 'stroke-width': 1.4 })
  const name = (text: string, value: number): string => words(text, area.right + 6, atY(value) + 4, { size: 11, fill: palette.quiet })
  return lines + nominal + name(`limit ${plainNumber(high)}`, high) + name('nominal 1', 1) + name(`limit ${plainNumber(low)}`, low)
}

/** Increments against nominal: what each command moved, in microsteps; merged, missing and reversed by shape and word. */
export const incrementFigure = (result: Result): Figure => {
  const increments = movesOf(result).map(({ incrementMicrosteps }) => incrementMicrosteps ?? 1)
  const missing = missingCommands(result)
  const [lowest, highest] = extremes(increments)
  const room = 0.08 * (Math.max(2, highest) - Math.min(0, lowest))
  const y = axisOf(Math.min(-0.1, lowest) - room * (missing.length > 0 ? 2 : 1), Math.max(1.75, highest) + room, { label: 'increment, microsteps (nominal 1)' })
  const x = axisOf(0, increments.length, { label: 'command k, count', most: 10, whole: true })
  return chart({ name: 'increments', title: 'Increment of each command against nominal', x, y, entries: entriesOf(result, missing.length), right: chartWidth - 84, note: `U of one increment about ± ${plainNumber(movesOf(result)[0]?.incrementUMicrosteps ?? 0, 2)} microsteps; a missing position is marked on the lower edge` }, (frame) => {
    const points = pointsOf(result, frame)
    const shrink = increments.length > 400 ? 0.6 : 1
    const gaps = missing.map((k) => [frame.atX(k), frame.area.bottom - 6] as const)
    return limitLines(result, frame) + restKinds.map((kind) => markers(kind, points[kind], shrink)).join('') + markers('missing', gaps, shrink) + labelsFor(result, missing, frame)
  })
}
