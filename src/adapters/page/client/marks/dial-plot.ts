import type { Reviewed } from '#core/review/reviewed'
import { colour } from '#adapters/page/client/app/theme'
import { lookOf } from './draw-marks.ts'
import { sharp } from './rest-plot.ts'
import type { Size } from './view.ts'

interface Ring {
  readonly x: number
  readonly y: number
  readonly radius: number
}

const ringOf = ({ width, height }: Size): Ring => ({ x: width / 2, y: height / 2, radius: Math.min(width / 2 - 24, height / 2 - 20) })

const tick = (pen: CanvasRenderingContext2D, { x, y, radius }: Ring, deg: number, [inner, outer]: readonly [number, number]): void => {
  const angle = (deg * Math.PI) / 180
  const [cos, sin] = [Math.cos(angle), -Math.sin(angle)]
  pen.moveTo(x + radius * inner * cos, y + radius * inner * sin)
  pen.lineTo(x + radius * outer * cos, y + radius * outer * sin)
}

/** Which way angles count: 0° to the right, 90° up, as everywhere in this tool. */
const drawDegrees = (pen: CanvasRenderingContext2D, { x, y, radius }: Ring): void => {
  pen.fillStyle = colour('quiet')
  pen.textAlign = 'left'
  pen.fillText('0°', x + radius + 4, y + 4)
  pen.textAlign = 'center'
  pen.fillText('90°', x + 3, y - radius - 5)
}

const paints = [['found', 'ink', 0.86], ['moved', 'pick', 0.82], ['added', 'pick', 0.82], ['doubt', 'open', 0.74]] as const

/** Marks by their angle about the shaft as seen; doubtful ones reach farther in. */
export const drawDial = (canvas: HTMLCanvasElement, { marks }: Reviewed, except: string | null): void => {
  const sheet = sharp(canvas)
  if (!sheet) return
  const { pen, size } = sheet
  const ring = ringOf(size)
  pen.strokeStyle = colour('line')
  pen.lineWidth = 1.5
  pen.beginPath()
  pen.arc(ring.x, ring.y, ring.radius, 0, 2 * Math.PI)
  pen.moveTo(ring.x - 6, ring.y)
  pen.lineTo(ring.x + 6, ring.y)
  pen.moveTo(ring.x, ring.y - 6)
  pen.lineTo(ring.x, ring.y + 6)
  pen.stroke()
  drawDegrees(pen, ring)
  for (const [look, paint, inner] of paints) {
    pen.beginPath()
    for (const mark of marks) if (mark.id !== except && mark.angleDeg !== null && lookOf(mark) === look) tick(pen, ring, mark.angleDeg, [inner, 1])
    pen.strokeStyle = colour(paint)
    pen.lineWidth = marks.length > 600 ? 0.7 : look === 'found' ? 1.4 : 2.4
    pen.stroke()
  }
}

/** The chosen mark as a pointer from the shaft. */
export const drawDialHand = (canvas: HTMLCanvasElement, chosen: readonly (number | null)[]): void => {
  const sheet = sharp(canvas)
  if (!sheet) return
  const { pen, size } = sheet
  pen.beginPath()
  for (const deg of chosen) if (deg !== null) tick(pen, ringOf(size), deg, [0.12, 1.06])
  pen.strokeStyle = colour('pick')
  pen.lineWidth = 2.5
  pen.stroke()
  const first = chosen[0]
  if (first === null || first === undefined) return
  pen.fillStyle = colour('pick')
  pen.textAlign = 'center'
  pen.fillText(`${first.toFixed(2)}°`, size.width / 2, size.height / 2 + (first > 180 ? -12 : 24))
}

/** The mark nearest to a place on the dial, by angle. */
export const dialMarkAt = ({ marks }: Reviewed, size: Size, [px, py]: readonly [number, number]): string | null => {
  const { x, y } = ringOf(size)
  const deg = ((Math.atan2(y - py, px - x) * 180) / Math.PI + 360) % 360
  let [best, away]: [string | null, number] = [null, 8]
  for (const { id, angleDeg } of marks) {
    if (angleDeg === null) continue
    const gap = Math.abs(((angleDeg - deg + 540) % 360) - 180)
    if (gap < away) [best, away] = [id, gap]
  }
  return best
}
