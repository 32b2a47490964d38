import type { Hints } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { boxOf, type Drawn, type Placed } from './drawn.ts'
import { cross, onPhoto } from './draw-marks.ts'
import { toScreen, type View } from './view.ts'

export interface ToldOnPhoto {
  readonly hints: Hints
  readonly placed: Placed
  /** The shaft as it was found, for a ring where nobody has said where it is. */
  readonly centre: Point | null
}

type Pen = CanvasRenderingContext2D

const stroked = (pen: Pen, path: Path2D, colour: string): void => {
  pen.lineWidth = 4
  pen.strokeStyle = onPhoto.halo
  pen.stroke(path)
  pen.lineWidth = 2
  pen.strokeStyle = colour
  pen.stroke(path)
}

/** A box crossed out: nothing in it counts. */
const crossedBox = (drawn: Drawn, view: View): Path2D => {
  const { x, y, width, height } = boxOf(drawn)
  const [ax, ay] = toScreen(view, [x, y])
  const [bx, by] = toScreen(view, [x + width, y + height])
  const path = new Path2D()
  path.rect(ax, ay, bx - ax, by - ay)
  path.moveTo(ax, ay)
  path.lineTo(bx, by)
  path.moveTo(bx, ay)
  path.lineTo(ax, by)
  return path
}

/** A line between two places with a short bar across each end, as a drawing shows a measure. */
const measured = ({ from, to }: Drawn, view: View): Path2D => {
  const [a, b] = [toScreen(view, from), toScreen(view, to)]
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1
  const [nx, ny] = [(-(b[1] - a[1]) / length) * 9, ((b[0] - a[0]) / length) * 9]
  const path = new Path2D()
  path.moveTo(...a)
  path.lineTo(...b)
  for (const [x, y] of [a, b] as readonly Point[]) {
    path.moveTo(x - nx, y - ny)
    path.lineTo(x + nx, y + ny)
  }
  return path
}

/** The shaft as a ringed cross, the ring of marks as two circles about it. */
const aboutShaft = ({ centre, ring }: Pick<Placed, 'centre' | 'ring'>, view: View): Path2D => {
  const path = new Path2D()
  if (!centre) return path
  const [x, y] = toScreen(view, centre)
  cross(path, [x, y], 13)
  for (const radius of ring ?? []) {
    path.moveTo(x + radius * view.scale, y)
    path.arc(x, y, radius * view.scale, 0, 2 * Math.PI)
  }
  return path
}

/** Corners in any order, each a small square; four are joined round their middle. */
const cornered = (corners: readonly Point[], view: View): Path2D => {
  const [mx, my] = [0, 1].map((i) => corners.reduce((sum, corner) => sum + (corner[i] ?? 0), 0) / corners.length) as [number, number]
  const around = corners.toSorted((a, b) => Math.atan2(a[1] - my, a[0] - mx) - Math.atan2(b[1] - my, b[0] - mx)).map((corner) => toScreen(view, corner))
  const path = new Path2D()
  for (const [x, y] of around) path.rect(x - 8, y - 8, 16, 16)
  if (around.length === 4) around.forEach((corner, i) => { path.moveTo(...corner); path.lineTo(...(around[(i + 1) % 4] as Point)) })
  return path
}

/** What was told about the photo by drawing on it, and what is being drawn. */
export const drawTold = (pen: Pen, { hints, placed, centre }: ToldOnPhoto, view: View): void => {
  for (const { x, y, width, height } of hints.ignorePx ?? []) stroked(pen, crossedBox({ from: [x, y], to: [x + width, y + height] }, view), onPhoto.frame)
  if (hints.scalePx) stroked(pen, measured(hints.scalePx, view), onPhoto.frame)
  if (placed.centre || placed.ring) stroked(pen, aboutShaft({ centre: placed.centre ?? centre, ring: placed.ring }, view), onPhoto.chosen)
  if (placed.corners.length > 0) stroked(pen, cornered(placed.corners, view), onPhoto.chosen)
  if (placed.box) stroked(pen, crossedBox(placed.box, view), onPhoto.chosen)
  if (placed.distance) stroked(pen, measured(placed.distance, view), onPhoto.chosen)
}
