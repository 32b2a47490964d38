import { evenTurn } from '#core/detect/dial/even-turn'
import { squareOn, stretched } from '#core/detect/dial/square-on'
import { bearing, photoPlane, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { expect, it } from 'vitest'

/** A circle of 96 marks seen by a pinhole camera tilted by 25° about x, four radii away (projected here from the pinhole's own law). */
const tilt = (25 * Math.PI) / 180
const project = ([x, y]: Point): Point => {
  const depth = 4 + y * Math.sin(tilt)
  return [500 + (1200 * x) / depth, 400 + (1200 * y * Math.cos(tilt)) / depth]
}
const ring = Array.from({ length: 96 }, (_, k): Point => [Math.cos((2 * Math.PI * k) / 96), Math.sin((2 * Math.PI * k) / 96)])

it('shows a full turn of marks seen aslant square on, its bearings as they were', () => {
  const seen = ring.map(project)
  const turn = evenTurn(seen, [502, 398], true)
  const dial = { map: photoPlane, turn, centre: { centre: turn?.centre as Point }, marks: seen.map((middle) => ({ fit: { model: { middle, along: [1, 0], halfLength: 1, bow: [0, 0, 0] } } })) } as never
  const [cx, cy] = project([0, 0])
  const about = (map: typeof photoPlane): { readonly radii: number[]; readonly bearings: number[] } => {
    const centre = toPlane(map, [cx, cy])
    const places = seen.map((p) => toPlane(map, p))
    return { radii: places.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1])), bearings: places.map((p) => bearing(centre, p)) }
  }
  const spread = ({ radii }: ReturnType<typeof about>): number => Math.max(...radii) / Math.min(...radii) - 1
  const [flat, level] = [about(stretched(dial)), about(squareOn(dial))]
  // The far side is nearer by 1 − 2·sin 25°/4 seen so; what is left of it is of second order.
  expect(spread(flat)).toBeGreaterThan(0.2)
  expect(spread(level)).toBeLessThan(0.012)
  level.bearings.forEach((b, i) => expect(Math.abs(Math.sin(b - (flat.bearings[i] as number)))).toBeLessThan(1e-4))
})
