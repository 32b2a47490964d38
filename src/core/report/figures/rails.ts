import { extremes } from '#core/numeric/moments'
import { fixed } from '#core/report/number-text'
import { palette } from '#core/report/palette'
import { kindOf, microstepDegOf, type RestKind } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { type CommandRange, placeDeg } from '#core/report/worst-stretch'
import { axisOf, scaleOf } from './axis.ts'
import { markers } from './marker.ts'
import type { Area } from './plot-frame.ts'
import { path, px, words } from './svg.ts'

export interface Rails {
  readonly range: CommandRange
  readonly missing: readonly number[]
  readonly area: Area
}

/** A line from every nominal position to the rest its command reached: merged commands run together, jumps stand open. */
const threads = (result: Result, { range, area }: Rails, atX: (deg: number) => number): string => {
  const d: Record<RestKind, string[]> = { moved: [], merged: [], reversed: [], unjudged: [] }
  for (let k = range.from; k <= range.to; k++) {
    const rest = result.rests[k]
    if (rest) d[k === 0 ? 'moved' : kindOf(rest)].push(`M${px(atX(microstepDegOf(result) * k))} ${area.bottom - 44}L${px(atX(placeDeg(result, k)))} ${area.top + 44}`)
  }
  return (['moved', 'unjudged', 'merged', 'reversed'] as const).map((kind) => path(d[kind].join(''), { stroke: { moved: palette.moved, merged: palette.merged, reversed: palette.reversed, unjudged: palette.nominal }[kind], 'stroke-opacity': 0.75 })).join('')
}

const ticksAt = (places: readonly number[], y: number, height: number): string => places.map((x) => `M${px(x)} ${px(y)}v${height}`).join('')

/** Nominal positions on the lower rail, rests on the upper one, over one stretch of commands; x in deg at the shaft. */
export const rails = (result: Result, spec: Rails): string => {
  const { range, missing, area } = spec
  const places = Array.from({ length: range.to - range.from + 1 }, (_, i) => placeDeg(result, range.from + i))
  const microstep = microstepDegOf(result)
  const [lowest, highest] = extremes(places)
  const axis = axisOf(Math.min(range.from * microstep, lowest) - microstep, Math.max(range.to * microstep, highest) + microstep, { label: 'shaft angle from the start mark, deg', most: Math.max(4, Math.round((area.right - area.left) / 90)) })
  const atX = scaleOf(axis, area.left, area.right)
  const flagged = (kind: RestKind): [number, number][] => places.flatMap((place, i) => (range.from + i > 0 && result.rests[range.from + i] && kindOf(result.rests[range.from + i] as Result['rests'][number]) === kind ? [[atX(place), area.top + 18 + (kind === 'merged' ? 0 : -14)] as [number, number]] : []))
  const gaps = missing.filter((k) => k >= range.from && k <= range.to).map((k) => [atX(k * microstep), area.bottom - 18] as const)
  const nominal = places.map((_, i) => atX((range.from + i) * microstep))
  return [
    threads(result, spec, atX),
    path(`M${area.left} ${area.top + 44}H${area.right}`, { stroke: palette.moved }) + path(ticksAt(places.map(atX), area.top + 28, 16), { stroke: palette.moved, 'stroke-width': 1.6 }),
    path(`M${area.left} ${area.bottom - 44}H${area.right}`, { stroke: palette.nominal }) + path(ticksAt(nominal, area.bottom - 44, 14), { stroke: palette.nominal, 'stroke-width': 1.2 }),
    markers('merged', flagged('merged')) + markers('reversed', flagged('reversed')) + markers('missing', gaps),
    path(`M${area.left} ${area.bottom}H${area.right}${axis.ticks.map((tick) => `M${px(atX(tick))} ${area.bottom}v5`).join('')}`, { stroke: palette.quiet }),
    axis.ticks.map((tick) => words(fixed(tick, axis.decimals), atX(tick), area.bottom + 18, { anchor: 'middle', size: 12, fill: palette.quiet })).join(''),
    words(axis.label, (area.left + area.right) / 2, area.bottom + 38, { anchor: 'middle' }),
    words('rests', area.left - 8, area.top + 48, { size: 11, fill: palette.ink, anchor: 'end' }) + words('nominal', area.left - 8, area.bottom - 40, { size: 11, fill: palette.ink, anchor: 'end' }),
  ].join('')
}
