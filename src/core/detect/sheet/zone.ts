import type { Place } from './page-size.ts'

/** Where marks go; nothing but faint arcs is printed inside it. mm. */
export type Zone =
  | {
      readonly kind: 'ring'
      readonly inner: number
      readonly outer: number
      /** Radius of the fine ring that command numbers are written beside. */
      readonly numberRing: number
    }
  | { readonly kind: 'band'; readonly halfHeight: number; readonly length: number }

/** Faint arcs are printed at whole multiples of this radius, whatever the pointer's length. mm. */
export const arcStepMm = 10

/** Half the height of the strip's marking band, mm. */
export const bandHalfMm = 20

/** Shortest and longest pointer a sheet is made for, mm. */
export const pointerMm = { shortest: 40, longest: 400 } as const

/** The zone of a pointer whose tip sweeps at this radius: strokes from 28 mm inside the tip to the number ring outside. */
export const pointerZone = (lengthMm: number): Zone => {
  const numberRing = arcStepMm * Math.ceil((lengthMm + 6) / arcStepMm)
  return { kind: 'ring', inner: lengthMm - 28, outer: numberRing + 2, numberRing }
}

export const stripZone = (length: number): Zone => ({ kind: 'band', halfHeight: bandHalfMm, length })

/** An upright box in the sheet's frame, mm. */
export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

export const boxAbout = ([x, y]: Place, width: number, height: number): Box => ({
  left: x - width / 2,
  right: x + width / 2,
  top: y - height / 2,
  bottom: y + height / 2,
})

const nearest = (low: number, high: number): number => Math.max(low, -high, 0)
const farthest = (low: number, high: number): number => Math.max(Math.abs(low), Math.abs(high))

/** Least and greatest distance of a box from the sheet's origin, mm. */
export const boxReach = ({ left, right, top, bottom }: Box): readonly [near: number, far: number] => [
  Math.hypot(nearest(left, right), nearest(top, bottom)),
  Math.hypot(farthest(left, right), farthest(top, bottom)),
]

/** Whether a box has no point inside the zone. */
export const boxClears = (zone: Zone, box: Box): boolean => {
  if (zone.kind === 'band') return box.top >= zone.halfHeight || box.bottom <= -zone.halfHeight
  const [near, far] = boxReach(box)
  return near >= zone.outer || far <= zone.inner
}

/** Whether a disc has no point inside the zone. */
export const discClears = (zone: Zone, [x, y]: Place, radius: number): boolean => {
  if (zone.kind === 'band') return Math.abs(y) >= zone.halfHeight + radius
  const distance = Math.hypot(x, y)
  return distance >= zone.outer + radius || distance <= zone.inner - radius
}

export const boxesMeet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom
