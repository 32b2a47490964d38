import type { Point } from '#core/detect/raster'

/**
 * What the centre's doubt leaves in each mark's bearing, the turn that all of them share aside; rad.
 * A bearing changes by (sin θ, −cos θ)/r per unit that the centre moves.
 * @param points marks in the plane
 * @param covariance of the centre, plane units squared: [xx, xy, yy]
 */
export const centreDoubts = (points: readonly Point[], [cx, cy]: Point, [xx, xy, yy]: readonly [number, number, number]): number[] => {
  const slopes = points.map(([x, y]): Point => {
    const square = (x - cx) ** 2 + (y - cy) ** 2
    return [(y - cy) / square, -(x - cx) / square]
  })
  const mean = [0, 1].map((axis) => slopes.reduce((sum, slope) => sum + (slope[axis] as number), 0) / slopes.length) as [number, number]
  return slopes.map(([x, y]) => {
    const [dx, dy] = [x - mean[0], y - mean[1]]
    return Math.sqrt(Math.max(0, xx * dx * dx + 2 * xy * dx * dy + yy * dy * dy))
  })
}
