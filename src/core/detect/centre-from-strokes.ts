import type { Point } from './raster.ts'

/** A stroke's line in the plane of the paper. */
export interface StrokeLine {
  readonly middle: Point
  /** Unit vector. */
  readonly along: Point
  readonly length: number
}

export interface CentreEstimate {
  readonly centre: Point
  /** Plane units squared: [xx, xy, yy]. */
  readonly covariance: readonly [number, number, number]
}

/**
 * Where the strokes' lines meet: least robust squared lean (Tukey weights). Each line is trusted to the scatter of the leans
 * themselves, so hands that draw truly give a better centre.
 * @returns null for fewer than three lines or lines that are all parallel
 */
export const centreFromStrokes = (lines: readonly StrokeLine[], start: Point): CentreEstimate | null => {
  let [cx, cy] = start
  let spread = 0.05
  let cofactor: readonly [number, number, number] = [0, 0, 0]
  for (let round = 0; round < 8; round++) {
    let xx = 0
    let xy = 0
    let yy = 0
    let bx = 0
    let by = 0
    const leans: number[] = []
    for (const { middle, along } of lines) {
      const rx = middle[0] - cx
      const ry = middle[1] - cy
      const radius = Math.hypot(rx, ry)
      const nx = -along[1]
      const ny = along[0]
      const distance = nx * rx + ny * ry
      const lean = distance / radius
      leans.push(Math.abs(lean))
      const z = lean / (4.7 * spread)
      if (Math.abs(z) >= 1) continue
      const weight = (1 - z * z) ** 2 / (radius * spread) ** 2
      xx += weight * nx * nx
      xy += weight * nx * ny
      yy += weight * ny * ny
      bx += weight * nx * distance
      by += weight * ny * distance
    }
    const determinant = xx * yy - xy * xy
    if (!(determinant > 1e-10 * xx * yy) || lines.length < 3) return null
    cx += (yy * bx - xy * by) / determinant
    cy += (xx * by - xy * bx) / determinant
    cofactor = [yy / determinant, -xy / determinant, xx / determinant]
    leans.sort((a, b) => a - b)
    spread = Math.max(1e-4, (1.4826 * (leans[leans.length >> 1] ?? 0) * lines.length) / Math.max(1, lines.length - 2))
  }
  return Number.isFinite(cx + cy) ? { centre: [cx, cy], covariance: cofactor } : null
}
