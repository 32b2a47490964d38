import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { planeMap, type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import { composeHomographies, type Homography } from '#core/numeric/homography'
import { solveNormal } from '#core/numeric/normal-equations'
import type { EvenTurn } from './fit-turn.ts'

/** What a full turn of marks tells of the plane. */
interface Turned {
  readonly map: PlaneMap
  readonly centre: { readonly centre: Point }
  readonly turn: EvenTurn | null
}

/** The map with the full turn's stretch put in, about the centre. */
export const stretched = ({ map, turn, centre: { centre: [x, y] } }: Turned): PlaneMap => {
  if (turn === null) return map
  const [a, b] = turn.stretch
  const stretch: Homography = [1 + a, b, -a * x - b * y, b, 1 - a, -b * x + a * y, 0, 0, 1]
  return planeMap(composeHomographies(stretch, map.homography), map.radial)
}

/**
 * The same as the camera would see it square on: marks lie farther from the shaft on the side that is nearer to a tilted camera, and
 * are drawn about as far all round. What takes that out leaves the bearings about the shaft as they are.
 */
export const squareOn = (dial: Turned & { readonly marks: readonly FittedMark[] }): PlaneMap => {
  const map = stretched(dial)
  const [cx, cy] = dial.centre.centre
  const places = dial.marks.map(({ fit: { model } }): Point => {
    const [x, y] = toPlane(map, centreLineAt(model, 0))
    return [x - cx, y - cy]
  })
  // radius = R·(1 + p·direction): divided by the radius, places along each direction.
  const radii = places.map(([x, y]) => Math.hypot(x, y))
  const told = solveNormal(places.map(([x, y], i) => [1, x / (radii[i] as number), y / (radii[i] as number)]), radii, radii.map(() => 1))
  if (told === null) return map
  const [mean = 1, px = 0, py = 0] = told
  const [qx, qy] = [px / mean ** 2, py / mean ** 2]
  // (X, Y) → (X, Y) / (1 + q·(X, Y)) about the centre.
  const level: Homography = [1 + cx * qx, cx * qy, -cx * (cx * qx + cy * qy), cy * qx, 1 + cy * qy, -cy * (cx * qx + cy * qy), qx, qy, 1 - cx * qx - cy * qy]
  return planeMap(composeHomographies(level, map.homography), map.radial)
}
