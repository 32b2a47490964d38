import type { Hints } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { readNumber } from '#core/quantity/read-number'

/** Two places of the photo that a hand has drawn between: opposite corners of a box, or the ends of a known distance. Photo px. */
export interface Drawn {
  readonly from: Point
  readonly to: Point
}

/** What can be told about a photo by drawing on it. */
export type Drawing = 'centre' | 'ring' | 'corners' | 'box' | 'distance'

/** What a hand has drawn or typed and nobody has looked again with yet; photo px. */
export interface Placed {
  readonly centre: Point | null
  /** Radii about the shaft between which the marks lie. */
  readonly ring: readonly [inner: number, outer: number] | null
  /** As many of the paper's four corners as have been placed. */
  readonly corners: readonly Point[]
  readonly box: Drawn | null
  readonly distance: Drawn | null
}

export const nothingPlaced: Placed = { centre: null, ring: null, corners: [], box: null, distance: null }

/** What was told before, to begin from; boxes and the scale stay told beside a new one. */
export const placedBefore = ({ centrePx, radiusRangePx, cornersPx }: Hints): Placed => ({ ...nothingPlaced, centre: centrePx ?? null, ring: radiusRangePx ?? null, corners: cornersPx ?? [] })

/** Without what nobody is asked for. */
export const placedOnly = (placed: Placed, drawings: readonly Drawing[]): Placed => ({ ...nothingPlaced, ...Object.fromEntries(drawings.map((drawing) => [drawing, placed[drawing]])) })

/** What was told before with what has been placed since. @param apart how far the two places are from each other, as typed, mm */
export const hintsWith = ({ centrePx: _, radiusRangePx: __, cornersPx: ___, ...before }: Hints, { centre, ring, corners: [a, b, c, d], box, distance }: Placed, apart: string): Hints => {
  const mm = readNumber(apart)
  return {
    ...before,
    ...(centre ? { centrePx: centre } : {}),
    ...(ring ? { radiusRangePx: ring } : {}),
    ...(a && b && c && d ? { cornersPx: [a, b, c, d] } : {}),
    ...(box ? { ignorePx: [...(before.ignorePx ?? []), boxOf(box)] } : {}),
    ...(distance && mm !== null && mm > 0 ? { scalePx: { ...distance, mm } } : {}),
  }
}

type Box = NonNullable<Hints['ignorePx']>[number]

/** The box between two opposite corners, whole px. */
export const boxOf = ({ from: [ax, ay], to: [bx, by] }: Drawn): Box => ({
  x: Math.round(Math.min(ax, bx)),
  y: Math.round(Math.min(ay, by)),
  width: Math.round(Math.abs(bx - ax)),
  height: Math.round(Math.abs(by - ay)),
})

const far = ([ax, ay]: Point, [bx, by]: Point): number => Math.hypot(bx - ax, by - ay)
const whole = ([x, y]: Point): Point => [Math.round(x), Math.round(y)]

export interface Stroke extends Drawn {
  /** The shaft's centre where nobody has placed one: as it was found. */
  readonly centre: Point | null
  /** How near counts as on it, photo px. */
  readonly reach: number
}

/** Corner that is taken hold of: the one that lies there, else the next one, and of four the nearest. */
const cornerAt = (corners: readonly Point[], at: Point, reach: number): number => {
  const away = corners.map((corner) => far(corner, at))
  const nearest = away.indexOf(Math.min(...away))
  return corners.length === 4 || (away[nearest] ?? Number.POSITIVE_INFINITY) < reach ? nearest : corners.length
}

/** What has been placed once a hand has gone from one place of the photo to another; null when that says nothing. */
export const drawnOn = (before: Placed, drawing: Drawing, { from, to, centre, reach }: Stroke): Placed | null => {
  if (drawing === 'centre') return { ...before, centre: whole(to) }
  if (drawing === 'corners') return { ...before, corners: before.corners.toSpliced(cornerAt(before.corners, from, reach), 1, whole(to)) }
  if (drawing === 'box' || drawing === 'distance') return far(from, to) > 1 ? { ...before, [drawing]: { from, to } } : null
  const shaft = before.centre ?? centre
  if (!shaft) return null
  const [inner, outer] = [far(shaft, from), far(shaft, to)].map(Math.round).toSorted((a, b) => a - b) as [number, number]
  return outer > inner ? { ...before, ring: [inner, outer] } : null
}

const numbersIn = (text: string, howMany: number): readonly number[] => {
  const values = text.split(/[\s,;]+/).filter(Boolean).map((part) => readNumber(part))
  return values.length === howMany ? values.filter((value) => value !== null) : []
}

const listed = (values: readonly number[]): string => values.map(Math.round).join(', ')

/** What was placed as text, for those who would rather type; nothing where nothing is. */
export const placedText = ({ centre, ring, corners, box, distance }: Placed, drawing: Drawing): string => {
  if (drawing === 'centre') return listed(centre ?? [])
  if (drawing === 'ring') return listed(ring ?? [])
  if (drawing === 'corners') return corners.map(listed).join('; ')
  if (drawing === 'box') return box ? listed(Object.values(boxOf(box))) : ''
  return distance ? `${listed(distance.from)}; ${listed(distance.to)}` : ''
}

/** The text read back: an empty one takes away what was placed; null when it says nothing. */
export const placedTyped = (before: Placed, drawing: Drawing, text: string): Placed | null => {
  if (text.trim() === '') return { ...before, [drawing]: nothingPlaced[drawing] }
  const [a, b, c, d, e, f, g, h] = numbersIn(text, { centre: 2, ring: 2, corners: 8, box: 4, distance: 4 }[drawing])
  if (a === undefined || b === undefined) return null
  if (drawing === 'centre') return { ...before, centre: [a, b] }
  if (drawing === 'ring') return a >= 0 && b > a ? { ...before, ring: [a, b] } : null
  if (c === undefined || d === undefined) return null
  if (drawing === 'distance') return far([a, b], [c, d]) > 1 ? { ...before, distance: { from: [a, b], to: [c, d] } } : null
  if (drawing === 'box') return c > 0 && d > 0 ? { ...before, box: { from: [a, b], to: [a + c, b + d] } } : null
  return e === undefined || f === undefined || g === undefined || h === undefined ? null : { ...before, corners: [[a, b], [c, d], [e, f], [g, h]] }
}
