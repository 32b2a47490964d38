import type { Point } from '#core/detect/raster'
import { rootsOf, type Runs } from '#core/detect/sheet/dark-areas'

/** A binary picture's largest bright regions, as convex outlines in its own px. */
export interface Outline {
  /** Convex hull, in order. */
  readonly hull: readonly Point[]
  /** Pixels of the region over the hull's area: 1 for a full convex shape. */
  readonly solidity: number
  readonly area: number
}

/** Twice the signed area of the triangle a b c. */
const cross = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

/** Convex hull by Andrew's monotone chain, clockwise as seen (y down); input sorted here. */
export const convexHull = (points: readonly Point[]): Point[] => {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const half = (list: readonly Point[]): Point[] => {
    const out: Point[] = []
    for (const p of list) {
      while (out.length >= 2 && cross(out[out.length - 2] as Point, out[out.length - 1] as Point, p) <= 0) out.pop()
      out.push(p)
    }
    out.pop()
    return out
  }
  return [...half(sorted), ...half(sorted.reverse())]
}

/** The same; null for fewer than three corners. */
export const outlineAbout = (points: readonly Point[]): Point[] | null => {
  const hull = convexHull(points)
  return hull.length < 3 ? null : hull
}

export const polygonArea = (polygon: readonly Point[]): number =>
  Math.abs(polygon.reduce((sum, [x, y], i) => {
    const [nx, ny] = polygon[(i + 1) % polygon.length] as Point
    return sum + x * ny - nx * y
  }, 0)) / 2

/** Horizontal runs of pixels above a level, in reading order. */
const brightRuns = (grey: Float32Array, [width, height]: readonly [number, number], level: number): Runs => {
  const most = height * ((width + 1) >> 1)
  const [rows, from, to] = [new Int32Array(most), new Int32Array(most), new Int32Array(most)]
  let count = 0
  for (let y = 0; y < height; y++) {
    let start = -1
    for (let x = 0; x <= width; x++) {
      const bright = x < width && (grey[y * width + x] as number) > level
      if (bright && start < 0) start = x
      if (bright || start < 0) continue
      rows[count] = y
      from[count] = start
      to[count++] = x
      start = -1
    }
  }
  return { count, rows, from, to }
}

/** Corners of each row's outermost pixels among some runs in reading order: the hull of these is that of all. */
const rimOf = ({ rows, from, to }: Runs, some: readonly number[]): Point[] => {
  const rim: Point[] = []
  const add = (x: number, y: number): void => void rim.push([x - 0.5, y - 0.5], [x - 0.5, y + 0.5])
  for (let n = 0; n < some.length; n++) {
    const run = some[n] as number
    const y = rows[run] as number
    if (n === 0 || rows[some[n - 1] as number] !== y) add(from[run] as number, y)
    if (n === some.length - 1 || rows[some[n + 1] as number] !== y) add(to[run] as number, y)
  }
  return rim
}

/** Regions of pixels above a level, joined by their sides, that cover at least `least` pixels, each as its hull. */
export const brightOutlines = (grey: Float32Array, size: readonly [width: number, height: number], level: number, least: number): Outline[] => {
  const runs = brightRuns(grey, size, level)
  const roots = rootsOf(runs, 0)
  const areas = new Int32Array(runs.count)
  for (let run = 0; run < runs.count; run++) {
    const root = roots[run] as number
    areas[root] = (areas[root] as number) + (runs.to[run] as number) - (runs.from[run] as number)
  }
  const large = new Map<number, number[]>()
  for (let run = 0; run < runs.count; run++) {
    const root = roots[run] as number
    if ((areas[root] as number) < least) continue
    const known = large.get(root)
    if (known === undefined) large.set(root, [run])
    else known.push(run)
  }
  return Array.from(large, ([root, some]) => {
    const hull = convexHull(rimOf(runs, some))
    const area = areas[root] as number
    return { hull, solidity: area / Math.max(1, polygonArea(hull)), area }
  })
}

/** Where the lines through a–b and c–d meet; null when parallel. */
export const meet = (a: Point, b: Point, c: Point, d: Point): Point | null => {
  const rx = b[0] - a[0]
  const ry = b[1] - a[1]
  const sx = d[0] - c[0]
  const sy = d[1] - c[1]
  const denominator = rx * sy - ry * sx
  if (Math.abs(denominator) < 1e-9 * Math.hypot(rx, ry) * Math.hypot(sx, sy)) return null
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / denominator
  return [a[0] + t * rx, a[1] + t * ry]
}

/**
 * The four-sided outline that encloses a convex one with least extra area: sides are dropped one by one, their neighbours
 * prolonged until they meet.
 * @returns null when the outline cannot be closed with four sides
 */
export const enclosingQuad = (hull: readonly Point[]): readonly [Point, Point, Point, Point] | null => {
  const polygon = [...hull]
  while (polygon.length > 4) {
    let best: { readonly index: number; readonly corner: Point; readonly extra: number } | null = null
    for (let i = 0; i < polygon.length; i++) {
      const before = polygon[(i + polygon.length - 1) % polygon.length] as Point
      const from = polygon[i] as Point
      const to = polygon[(i + 1) % polygon.length] as Point
      const after = polygon[(i + 2) % polygon.length] as Point
      const corner = meet(before, from, after, to)
      // The prolonged sides must meet on the outer side of the dropped one.
      if (corner === null || cross(from, to, corner) * cross(from, to, before) >= 0) continue
      const extra = Math.abs(cross(from, to, corner)) / 2
      if (best === null || extra < best.extra) best = { index: i, corner, extra }
    }
    if (best === null) return null
    polygon[best.index] = best.corner
    polygon.splice((best.index + 1) % polygon.length, 1)
  }
  return polygon.length === 4 ? (polygon as unknown as readonly [Point, Point, Point, Point]) : null
}
