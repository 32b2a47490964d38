import type { Point } from '#core/detect/raster'

export interface CentreEstimate {
  readonly centre: Point
  /** Plane units squared: [xx, xy, yy]. */
  readonly covariance: readonly [number, number, number]
}
