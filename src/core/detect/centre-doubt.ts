import type { CentreEstimate } from './centre-from-strokes.ts'
import type { Point } from './raster.ts'

/**
 * What the doubt about the shaft's centre leaves in the marks' bearings: rms over the marks, rad, their common turn aside. A centre that is
 * off by (x, y) turns the bearing θ (in the plane, y down) by (x·sin θ − y·cos θ)/R; over a part of a turn much of that is common to all.
 * @param points marks, in the plane
 * @returns 0 for no marks
 */
export const centreDoubt = (points: readonly Point[], { centre: [cx, cy], covariance: [xx, xy, yy] }: CentreEstimate): number => {
  if (points.length === 0) return 0
  const pulls = points.map(([x, y]): Point => {
    const squared = (x - cx) ** 2 + (y - cy) ** 2
    return [(y - cy) / squared, -(x - cx) / squared]
  })
  const [mx, my] = [0, 1].map((i) => pulls.reduce((sum, p) => sum + (p[i] as number), 0) / pulls.length) as [number, number]
  return Math.sqrt(pulls.reduce((sum, [x, y]) => sum + xx * (x - mx) ** 2 + 2 * xy * (x - mx) * (y - my) + yy * (y - my) ** 2, 0) / pulls.length)
}
