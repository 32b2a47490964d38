import type { Point } from '#core/detect/raster'
import { middleOf } from '#core/review/place-mark'
import { isDoubtful, type Reviewed, type ReviewedMark } from '#core/review/reviewed'
import { toScreen, type View } from './view.ts'

type Pen = CanvasRenderingContext2D

/** Colours on a photo are the same by day and night: the photo is what they lie on. */
export const onPhoto = { halo: 'rgba(255,255,255,0.85)', dark: '#10191c', found: '#0b63b0', moved: '#8a2f8c', added: '#8a2f8c', doubt: '#b34a00', chosen: '#d0006f', frame: '#0a6a48' } as const

const looks = ['found', 'moved', 'added', 'doubt'] as const
type Look = (typeof looks)[number]

export const lookOf = (mark: ReviewedMark): Look => (isDoubtful(mark) || (mark.multiplicity > 1 && !mark.accepted && mark.origin === 'found') ? 'doubt' : mark.origin)

const line = (pen: Pen, view: View, { p0, p1 }: ReviewedMark): void => {
  pen.moveTo(...toScreen(view, p0))
  pen.lineTo(...toScreen(view, p1))
}

/** A shape for each kind besides its colour: ring found, diamond moved, square added, triangle doubtful. */
const shape = (pen: Pen, [x, y]: Point, look: Look, r: number): void => {
  if (look === 'found') {
    pen.moveTo(x + r, y)
    pen.arc(x, y, r, 0, 2 * Math.PI)
  } else if (look === 'moved') {
    pen.moveTo(x, y - 1.3 * r)
    pen.lineTo(x + 1.3 * r, y)
    pen.lineTo(x, y + 1.3 * r)
    pen.lineTo(x - 1.3 * r, y)
    pen.closePath()
  } else if (look === 'added') pen.rect(x - r, y - r, 2 * r, 2 * r)
  else {
    pen.moveTo(x, y - 1.4 * r)
    pen.lineTo(x + 1.35 * r, y + r)
    pen.lineTo(x - 1.35 * r, y + r)
    pen.closePath()
  }
}

/** All marks, one path per look and layer. */
export const drawMarks = (pen: Pen, { marks }: Reviewed, { view, except }: { readonly view: View; readonly except: string | null }): void => {
  const many = marks.length > 600
  const r = many ? 2 : Math.max(3, Math.min(6, view.scale * 12))
  for (const look of looks) {
    const these = marks.filter((mark) => mark.id !== except && lookOf(mark) === look)
    if (these.length === 0) continue
    const lines = new Path2D()
    for (const mark of these) {
      lines.moveTo(...toScreen(view, mark.p0))
      lines.lineTo(...toScreen(view, mark.p1))
    }
    if (!many) {
      pen.strokeStyle = onPhoto.halo
      pen.lineWidth = 4
      pen.stroke(lines)
    }
    pen.strokeStyle = onPhoto[look]
    pen.lineWidth = many ? 1 : 2
    pen.stroke(lines)
    if (many && look === 'found') continue
    pen.beginPath()
    for (const mark of these) shape(pen, outer(view, mark, r + 3), look, r)
    pen.fillStyle = onPhoto.halo
    pen.fill()
    pen.stroke()
  }
}

/** Just beyond the outer end, so that the shape does not hide the ink. */
const outer = (view: View, { p0, p1 }: ReviewedMark, by: number): Point => {
  const [ax, ay] = toScreen(view, p0)
  const [bx, by0] = toScreen(view, p1)
  const length = Math.hypot(bx - ax, by0 - ay) || 1
  return [bx + ((bx - ax) / length) * by, by0 + ((by0 - ay) / length) * by]
}

/** Draws the path with a light rim, so that it shows on dark and on light; px of the rim and of the line. */
export const strokeHaloed = (pen: Pen, colour: string, [rim, width]: readonly [number, number]): void => {
  pen.lineWidth = rim
  pen.strokeStyle = onPhoto.halo
  pen.stroke()
  pen.lineWidth = width
  pen.strokeStyle = colour
  pen.stroke()
}

/** The one mark in hand: its line open in the middle so that the ink shows, ends to take hold of. */
export const drawChosen = (pen: Pen, mark: ReviewedMark, view: View): void => {
  pen.beginPath()
  line(pen, view, mark)
  strokeHaloed(pen, onPhoto.chosen, [6, 2.5])
  pen.beginPath()
  for (const point of [mark.p0, mark.p1]) {
    const [x, y] = toScreen(view, point)
    pen.moveTo(x + 6, y)
    pen.arc(x, y, 6, 0, 2 * Math.PI)
  }
  const [mx, my] = toScreen(view, middleOf(mark))
  pen.moveTo(mx + 12, my)
  pen.arc(mx, my, 12, 0, 2 * Math.PI)
  strokeHaloed(pen, onPhoto.chosen, [4, 2])
}

export const plus = (pen: Pick<CanvasPath, 'moveTo' | 'lineTo'>, [x, y]: Point, r: number): void => {
  pen.moveTo(x - r, y)
  pen.lineTo(x + r, y)
  pen.moveTo(x, y - r)
  pen.lineTo(x, y + r)
}

export const cross = (pen: Pick<CanvasPath, 'moveTo' | 'lineTo' | 'arc'>, [x, y]: Point, r: number): void => {
  plus(pen, [x, y], r)
  pen.moveTo(x + r * 0.6, y)
  pen.arc(x, y, r * 0.6, 0, 2 * Math.PI)
}

/** Shaft centre as a ringed cross, the paper's corners as boxes joined by a thin line, a printed sheet's targets that were used as small crosses. */
export const drawFrame = (pen: Pen, { centrePx, cornersPx, found: { targets = [] } }: Reviewed, { view, active }: { readonly view: View; readonly active: number | 'centre' | null }): void => {
  pen.beginPath()
  if (centrePx) cross(pen, toScreen(view, centrePx), active === 'centre' ? 16 : 11)
  for (const { px } of targets.filter(({ used }) => used)) plus(pen, toScreen(view, px), 4)
  const corners = (cornersPx ?? []).map((corner) => toScreen(view, corner))
  corners.forEach(([x, y], i) => {
    const r = active === i ? 11 : 7
    pen.rect(x - r, y - r, 2 * r, 2 * r)
    pen.moveTo(x, y)
    pen.lineTo(...(corners[(i + 1) % corners.length] as Point))
  })
  strokeHaloed(pen, onPhoto.frame, [4, 1.8])
}
