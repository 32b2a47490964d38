import type { Point } from '#core/detect/raster'

/** An ellipse as the image of the unit circle: point = centre + [[a, b], [c, d]]·(cos t, sin t), px. */
export interface Ellipse {
  readonly centre: Point
  readonly axes: readonly [a: number, b: number, c: number, d: number]
}

/** Where the point (x, y) of the unit circle's frame lands, px. */
export const ellipsePoint = ({ centre, axes }: Ellipse, x: number, y: number): Point => [
  centre[0] + axes[0] * x + axes[1] * y,
  centre[1] + axes[2] * x + axes[3] * y,
]

/** Geometric mean of the semi-axes, px. */
export const meanAxis = ({ axes }: Ellipse): number => Math.sqrt(Math.abs(axes[0] * axes[3] - axes[1] * axes[2]))
