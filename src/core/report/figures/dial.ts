import { palette } from '#core/report/palette'
import { kindOf, microstepDegOf } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { type CommandRange, placeDeg } from '#core/report/worst-stretch'
import { niceStep, ticksBetween } from './axis.ts'
import { markers } from './marker.ts'
import { element, path, px, words } from './svg.ts'

export interface DialPlace {
  readonly x: number
  readonly y: number
  readonly radius: number
}

type Polar = (deg: number, radius: number) => readonly [x: number, y: number]

/** Start mark to the right, travel counter-clockwise, as angles are counted. */
const polarAbout =
  ({ x, y }: DialPlace): Polar =>
  (deg, radius) => [x + radius * Math.cos((deg * Math.PI) / 180), y - radius * Math.sin((deg * Math.PI) / 180)]

const spoke = (at: Polar, deg: number, inner: number, outer: number): string => `M${at(deg, inner).map(px).join(' ')}L${at(deg, outer).map(px).join(' ')}`

/** Angles thinned to one per so many degrees, the first of each. */
const thinned = (angles: readonly number[], cellDeg: number): number[] => {
  const seen = new Set<number>()
  return angles.filter((angle) => {
    const cell = Math.round(angle / cellDeg)
    return !seen.has(cell) && seen.add(cell)
  })
}

const ring = ({ x, y, radius }: DialPlace): string => element('circle', { cx: x, cy: y, r: radius, fill: 'none', stroke: palette.quiet })

const angleNumbers = (at: Polar, radius: number, span: number): string =>
  ticksBetween(0, Math.min(span, 359), span > 180 ? 45 : Math.max(15, niceStep(span, 4)))
    .map((deg) => words(`${Math.round(deg * 100) / 100}°`, ...at(deg, radius), { anchor: 'middle', size: 11, fill: palette.quiet }))
    .join('')

/** The stretch that is drawn larger beside, as an arc. */
const stretchArc = (at: Polar, radius: number, from: number, to: number): string => {
  const steps = Math.max(2, Math.ceil((to - from) / 3))
  const points = Array.from({ length: steps + 1 }, (_, i) => at(from + ((to - from) * i) / steps, radius).map(px).join(' '))
  return path(`M${points.join('L')}`, { stroke: palette.ink, 'stroke-width': 3 })
}

/**
 * The trace on its dial: nominal positions (full steps only, where microsteps are finer than half a degree) inside the ring, rests outside it, flags further out, missing positions
 * further in. Marks closer than a quarter degree are drawn once, flags closer than two degrees too.
 */
export const dial = (result: Result, place: DialPlace, { range, missing }: { readonly range: CommandRange; readonly missing: readonly number[] }): string => {
  const at = polarAbout(place)
  const { radius } = place
  const microstep = microstepDegOf(result)
  const places = result.rests.map((_, k) => placeDeg(result, k))
  const span = (result.rests.length - 1) * microstep
  const nominal = places.map((_, k) => k * microstep).filter((_, k) => microstep >= 0.5 || k % result.motor.microsteps === 0)
  const flags = (kind: 'merged' | 'reversed', r: number) => markers(kind, thinned(places.filter((_, k) => k > 0 && kindOf(result.rests[k] as Result['rests'][number]) === kind), 2).map((deg) => at(deg, r)), 0.8)
  return [
    ring(place),
    path(thinned(nominal, 0.25).map((deg) => spoke(at, deg, radius - 13, radius - 2)).join(''), { stroke: palette.nominal, 'stroke-width': 0.7 }),
    path(thinned(places, 0.25).map((deg) => spoke(at, deg, radius + 2, radius + 17)).join(''), { stroke: palette.moved, 'stroke-width': 0.9 }),
    flags('merged', radius + 25) + flags('reversed', radius + 36),
    markers('missing', thinned(missing.map((k) => k * microstep), 2).map((deg) => at(deg, radius - 22)), 0.8),
    stretchArc(at, radius - 31, range.from * microstep, range.to * microstep),
    angleNumbers(at, radius - 52, span),
    path(spoke(at, 0, 0, radius - 70), { stroke: palette.quiet }) + words('start', place.x + 24, place.y - 6, { size: 11, fill: palette.quiet }),
    words('angle at the shaft, deg', place.x, place.y + 40, { anchor: 'middle', size: 12 }) + words('travel counter-clockwise', place.x, place.y + 58, { anchor: 'middle', size: 11, fill: palette.quiet }),
  ].join('')
}
