import type { Point } from '#core/detect/raster'
import type { PhotoLevels } from './photo-levels.ts'
import { onPhoto, plus, strokeHaloed } from './draw-marks.ts'
import { type Size, toScreen, type View } from './view.ts'

interface Magnified {
  readonly at: Point
  readonly stroke: { readonly p0: Point; readonly p1: Point } | null
  readonly view: View
  readonly screen: Size
}

/** A round glass in the corner away from the hand: the photo at four screen px or more per photo px, and what is being placed. */
export const drawMagnifier = (pen: CanvasRenderingContext2D, photo: PhotoLevels | null, { at, stroke, view, screen }: Magnified): void => {
  const radius = Math.min(84, screen.width / 4)
  const [sx, sy] = toScreen(view, at)
  const left = sx > screen.width / 2
  const cx = left ? radius + 10 : screen.width - radius - 10
  const cy = sy < 2 * radius + 60 && Math.abs(sx - cx) < radius + 60 ? screen.height - radius - 10 : radius + 10
  const scale = Math.max(4, view.scale * 3)
  const glass: View = { scale, x: cx - at[0] * scale, y: cy - at[1] * scale }
  pen.save()
  pen.beginPath()
  pen.arc(cx, cy, radius, 0, 2 * Math.PI)
  pen.fillStyle = '#fff'
  pen.fill()
  pen.clip()
  const half = radius / scale
  const whole = photo?.levels[0]
  if (whole) pen.drawImage(whole, at[0] - half, at[1] - half, 2 * half, 2 * half, cx - radius, cy - radius, 2 * radius, 2 * radius)
  pen.beginPath()
  if (stroke) {
    pen.moveTo(...toScreen(glass, stroke.p0))
    pen.lineTo(...toScreen(glass, stroke.p1))
  }
  plus(pen, [cx, cy], 9)
  strokeHaloed(pen, onPhoto.chosen, [3, 1.4])
  pen.restore()
  pen.beginPath()
  pen.arc(cx, cy, radius, 0, 2 * Math.PI)
  pen.lineWidth = 5
  pen.strokeStyle = onPhoto.dark
  pen.stroke()
  pen.lineWidth = 2
  pen.strokeStyle = '#fff'
  pen.stroke()
}
