type Pair = readonly [x: number, y: number]

/** A line in the plane, by a point on it and its direction. */
export interface PlaneLine {
  /** Weighted mean of the points; lies on the line. */
  readonly point: Pair
  /** Unit vector along the line. */
  readonly direction: Pair
  /** Weighted rms distance of the points from the line. */
  readonly rmsDistance: number
}

/**
 * Line of least weighted squared distance (orthogonal regression, Pearson 1901): errors alike in x and y.
 * @returns null for fewer than two points or points that all coincide
 */
export const fitLine = (points: readonly Pair[], weights?: readonly number[]): PlaneLine | null => {
  const weight = (i: number): number => weights?.[i] ?? 1
  let total = 0
  let mx = 0
  let my = 0
  points.forEach(([x, y], i) => {
    total += weight(i)
    mx += weight(i) * x
    my += weight(i) * y
  })
  mx /= total
  my /= total
  let xx = 0
  let xy = 0
  let yy = 0
  points.forEach(([x, y], i) => {
    xx += weight(i) * (x - mx) ** 2
    xy += weight(i) * (x - mx) * (y - my)
    yy += weight(i) * (y - my) ** 2
  })
  if (!(xx + yy > 0)) return null
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy)
  const direction: Pair = [Math.cos(angle), Math.sin(angle)]
  const across = xx * direction[1] ** 2 - 2 * xy * direction[0] * direction[1] + yy * direction[0] ** 2
  return { point: [mx, my], direction, rmsDistance: Math.sqrt(Math.max(0, across) / total) }
}

export interface YorkLine {
  readonly intercept: number
  readonly slope: number
  readonly uIntercept: number
  readonly uSlope: number
  readonly covariance: number
  readonly chiSquared: number
}

/**
 * Straight line y = intercept + slope·x with independent errors in both coordinates of every point.
 * Iteration of York, Evensen, Martínez & De Basabe Delgado, Am. J. Phys. 72 (2004) 367, with r = 0;
 * standard uncertainties from the adjusted points, not scaled by the residuals.
 * @param ux, uy standard uncertainties of x and y
 */
export const fitLineYork = (
  points: readonly Pair[],
  ux: readonly number[],
  uy: readonly number[],
  rounds = 100,
): YorkLine | null => {
  const start = fitLine(points)
  if (points.length < 2 || start === null || start.direction[0] === 0) return null
  let slope = start.direction[1] / start.direction[0]
  let state = yorkStep(points, ux, uy, slope)
  for (let round = 0; round < rounds && Math.abs(state.slope - slope) > 1e-15 * Math.abs(slope); round++) {
    slope = state.slope
    state = yorkStep(points, ux, uy, slope)
  }
  const { meanX, meanY, weights, adjusted } = state
  const total = weights.reduce((sum, w) => sum + w, 0)
  const centre = adjusted.reduce((sum, x, i) => sum + (weights[i] as number) * x, 0) / total
  const variance = 1 / adjusted.reduce((sum, x, i) => sum + (weights[i] as number) * (x - centre) ** 2, 0)
  const intercept = meanY - state.slope * meanX
  const chiSquared = points.reduce((sum, [x, y], i) => sum + (weights[i] as number) * (y - state.slope * x - intercept) ** 2, 0)
  const uIntercept = Math.sqrt(1 / total + centre ** 2 * variance)
  return { intercept, slope: state.slope, uIntercept, uSlope: Math.sqrt(variance), covariance: -centre * variance, chiSquared }
}

const yorkStep = (points: readonly Pair[], ux: readonly number[], uy: readonly number[], slope: number) => {
  const weights = points.map((_, i) => 1 / ((uy[i] as number) ** 2 + slope ** 2 * (ux[i] as number) ** 2))
  const total = weights.reduce((sum, w) => sum + w, 0)
  const meanX = points.reduce((sum, p, i) => sum + (weights[i] as number) * p[0], 0) / total
  const meanY = points.reduce((sum, p, i) => sum + (weights[i] as number) * p[1], 0) / total
  const beta = points.map(
    ([x, y], i) => (weights[i] as number) * ((x - meanX) * (uy[i] as number) ** 2 + slope * (y - meanY) * (ux[i] as number) ** 2),
  )
  const above = points.reduce((sum, p, i) => sum + (weights[i] as number) * (beta[i] as number) * (p[1] - meanY), 0)
  const below = points.reduce((sum, p, i) => sum + (weights[i] as number) * (beta[i] as number) * (p[0] - meanX), 0)
  return { slope: above / below, meanX, meanY, weights, adjusted: beta.map((b) => meanX + b) }
}
