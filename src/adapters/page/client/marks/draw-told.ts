import type { Hints } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { boxOf, type Drawn } from './drawn.ts'
import { onPhoto } from './draw-marks.ts'
import type { MarksState } from './marks-state.ts'
import { toScreen, type View } from './view.ts'

export interface ToldOnPhoto {
  readonly hints: Hints
  readonly tool: MarksState['tool']
  readonly drawn: Drawn | null
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

/** What was told about the photo by drawing on it, and what is being drawn. */
export const drawTold = (pen: Pen, { hints, tool, drawn }: ToldOnPhoto, view: View): void => {
  for (const { x, y, width, height } of hints.ignorePx ?? []) stroked(pen, crossedBox({ from: [x, y], to: [x + width, y + height] }, view), onPhoto.frame)
  if (hints.scalePx) stroked(pen, measured(hints.scalePx, view), onPhoto.frame)
  if (drawn) stroked(pen, tool === 'distance' ? measured(drawn, view) : crossedBox(drawn, view), onPhoto.chosen)
}
