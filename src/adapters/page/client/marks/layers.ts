import type { Reviewed } from '#core/review/reviewed'
import { drawMagnifier } from './draw-magnifier.ts'
import { drawChosen, drawFrame, drawMarks } from './draw-marks.ts'
import { drawTold, type ToldOnPhoto } from './draw-told.ts'
import { type Handle, placeOf } from './handle.ts'
import { levelFor, type PhotoLevels } from './photo-levels.ts'
import type { Size, View } from './view.ts'

/** Three sheets over one another, so that what stays still is not drawn again: photo, all marks, the one in hand. */
export interface Layers {
  readonly photo: HTMLCanvasElement
  readonly marks: HTMLCanvasElement
  readonly hand: HTMLCanvasElement
}

const clean = (canvas: HTMLCanvasElement, { width, height }: Size): CanvasRenderingContext2D | null => {
  const dense = Math.min(2, devicePixelRatio || 1)
  const [w, h] = [Math.round(width * dense), Math.round(height * dense)]
  if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h]
  const pen = canvas.getContext('2d')
  pen?.setTransform(dense, 0, 0, dense, 0, 0)
  pen?.clearRect(0, 0, width, height)
  return pen
}

export const drawPhotoLayer = ({ photo }: Layers, screen: Size, { view, levels }: { readonly view: View; readonly levels: PhotoLevels | null }): void => {
  const pen = clean(photo, screen)
  if (!pen || !levels) return
  const { bitmap } = levelFor(levels, view.scale * Math.min(2, devicePixelRatio || 1))
  pen.imageSmoothingEnabled = view.scale < 3
  pen.drawImage(bitmap, view.x, view.y, levels.width * view.scale, levels.height * view.scale)
}

export const drawMarksLayer = ({ marks }: Layers, screen: Size, { view, state, except }: { readonly view: View; readonly state: Reviewed; readonly except: string | null }): void => {
  const pen = clean(marks, screen)
  if (pen) drawMarks(pen, state, { view, except })
}

export interface Hand {
  readonly view: View
  /** Null where no marks were read. */
  readonly state: Reviewed | null
  readonly handle: Handle | null
  readonly hover: string | null
  readonly dragging: boolean
  readonly adding: boolean
  /** Regions that were left out, and what is being drawn. */
  readonly told: ToldOnPhoto
  readonly levels: PhotoLevels | null
}

export const drawHandLayer = ({ hand }: Layers, screen: Size, { view, state, handle, hover, dragging, adding, told, levels }: Hand): void => {
  const pen = clean(hand, screen)
  if (!pen) return
  if (state) drawFrame(pen, state, { view, active: handle?.kind === 'centre' ? 'centre' : handle?.kind === 'corner' ? handle.index : null })
  drawTold(pen, told, view)
  const hovered = hover === null ? undefined : state?.marks.find(({ id }) => id === hover)
  if (hovered) drawChosen(pen, hovered, { ...view })
  const mark = handle?.kind === 'mark' ? state?.marks.find(({ id }) => id === handle.id) : undefined
  if (mark) drawChosen(pen, mark, view)
  const at = handle && state && placeOf(handle, state)
  if (adding) {
    pen.beginPath()
    pen.moveTo(screen.width / 2 - 14, screen.height / 2)
    pen.lineTo(screen.width / 2 + 14, screen.height / 2)
    pen.moveTo(screen.width / 2, screen.height / 2 - 14)
    pen.lineTo(screen.width / 2, screen.height / 2 + 14)
    pen.lineWidth = 2
    pen.strokeStyle = '#d0006f'
    pen.stroke()
  }
  if (dragging && at) drawMagnifier(pen, levels, { at, stroke: mark ?? null, view, screen })
}

