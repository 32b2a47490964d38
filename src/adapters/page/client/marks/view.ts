import type { Point } from '#core/detect/raster'

/** How the photo lies on the screen: screen = photo·scale + offset. CSS px. */
export interface View {
  readonly scale: number
  readonly x: number
  readonly y: number
}

export interface Size {
  readonly width: number
  readonly height: number
}

export const toScreen = ({ scale, x, y }: View, [px, py]: Point): Point => [px * scale + x, py * scale + y]
export const toPhotoPoint = ({ scale, x, y }: View, [sx, sy]: Point): Point => [(sx - x) / scale, (sy - y) / scale]

/** The whole photo, centred, with a little room. */
export const fitted = (photo: Size, screen: Size): View => {
  const scale = Math.min(screen.width / photo.width, screen.height / photo.height) * 0.97
  return { scale, x: (screen.width - photo.width * scale) / 2, y: (screen.height - photo.height * scale) / 2 }
}

/** Nearer or farther about a place on the screen that stays where it is. */
export const zoomed = (view: View, factor: number, [sx, sy]: Point): View => {
  const scale = Math.min(40, Math.max(0.01, view.scale * factor))
  const real = scale / view.scale
  return { scale, x: sx - (sx - view.x) * real, y: sy - (sy - view.y) * real }
}

/** The nearest view in which a place of the photo stands well inside the screen. */
export const brought = (view: View, point: Point, screen: Size): View => {
  const [sx, sy] = toScreen(view, point)
  const inside = sx > screen.width * 0.15 && sx < screen.width * 0.85 && sy > screen.height * 0.15 && sy < screen.height * 0.85
  return inside ? view : { ...view, x: view.x + screen.width / 2 - sx, y: view.y + screen.height / 2 - sy }
}
