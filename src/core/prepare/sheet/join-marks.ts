import type { Shape } from './shape.ts'
import type { Place } from '#core/detect/sheet/page-size'
import { type Box, boxAbout, boxClears, type Zone } from '#core/detect/sheet/zone'

const line = (from: readonly [number, number], to: readonly [number, number]): Shape => ({
  kind: 'line',
  role: 'join',
  from,
  to,
  width: 0.12,
  tone: 0.35,
})

const dashMm = 4

/** Dashes along one side, left out wherever they would come into the marking zone. */
const dashes = (zone: Zone, from: readonly [number, number], to: readonly [number, number]): readonly Shape[] => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
  return Array.from({ length: Math.floor(length / (2 * dashMm)) }, (_, n) => (2 * n + 0.5) * dashMm).flatMap((start) => {
    const a = [from[0] + ux * start, from[1] + uy * start] as const
    const b = [a[0] + ux * dashMm, a[1] + uy * dashMm] as const
    const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as const
    return boxClears(zone, boxAbout(middle, dashMm + 2, dashMm + 2)) ? [line(a, b)] : []
  })
}

const crossArm = 3

/** Sides of a page that another page is joined to. */
export interface JoinedSides {
  readonly left: boolean
  readonly right: boolean
  readonly top: boolean
  readonly bottom: boolean
}

/** Cut-and-join marks of a page: dashes along each side of its cell that has a neighbour, and a cross on each end of such a side. */
export const joinMarks = (zone: Zone, { left, right, top, bottom }: Box, joined: JoinedSides): readonly Shape[] => {
  const [nw, ne, se, sw]: readonly [Place, Place, Place, Place] = [[left, top], [right, top], [right, bottom], [left, bottom]]
  const sides = [[joined.top, nw, ne], [joined.right, ne, se], [joined.bottom, se, sw], [joined.left, sw, nw]] as const
  const cut = sides.filter(([neighbour]) => neighbour)
  const crosses = [nw, ne, se, sw]
    .filter((corner) => cut.some(([, ...ends]) => ends.includes(corner)))
    .filter((corner) => boxClears(zone, boxAbout(corner, 2 * crossArm, 2 * crossArm)))
    .flatMap(([x, y]) => [line([x - crossArm, y], [x + crossArm, y]), line([x, y - crossArm], [x, y + crossArm])])
  return [...cut.flatMap(([, from, to]) => dashes(zone, from, to)), ...crosses]
}
