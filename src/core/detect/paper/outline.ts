import type { Point } from '#core/detect/raster'

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

/** Convex hull by Andrew's monotone chain; input sorted here. */
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

export const polygonArea = (polygon: readonly Point[]): number =>
  Math.abs(polygon.reduce((sum, [x, y], i) => {
    const [nx, ny] = polygon[(i + 1) % polygon.length] as Point
    return sum + x * ny - nx * y
  }, 0)) / 2

/** Regions of pixels above a level that cover at least `least` pixels, each as its hull. */
export const brightOutlines = (grey: Float32Array, [width, height]: readonly [number, number], level: number, least: number): Outline[] => {
  const open = new Uint8Array(grey.length)
  for (let p = 0; p < grey.length; p++) open[p] = (grey[p] as number) > level ? 1 : 0
  const stack = new Int32Array(width * height)
  const low = new Int32Array(height).fill(width)
  const high = new Int32Array(height).fill(-1)
  const outlines: Outline[] = []
  for (let seed = 0; seed < grey.length; seed++) {
    if (open[seed] === 0) continue
    const first = Math.floor(seed / width)
    let last = first
    let top = 1
    let area = 0
    stack[0] = seed
    open[seed] = 0
    while (top > 0) {
      const at = stack[--top] as number
      const y = Math.floor(at / width)
      const x = at - y * width
      area++
      if (y > last) last = y
      if (x < (low[y] as number)) low[y] = x
      if (x > (high[y] as number)) high[y] = x
      for (let side = 0; side < 4; side++) {
        const next = side === 0 ? at - 1 : side === 1 ? at + 1 : side === 2 ? at - width : at + width
        if ((side === 0 && x === 0) || (side === 1 && x === width - 1) || open[next] !== 1) continue
        open[next] = 0
        stack[top++] = next
      }
    }
    const rim: Point[] = []
    for (let y = first; y <= last; y++) {
      const x0 = (low[y] as number) - 0.5
      const x1 = (high[y] as number) + 0.5
      if (area >= least) rim.push([x0, y - 0.5], [x0, y + 0.5], [x1, y - 0.5], [x1, y + 0.5])
    }
    low.fill(width, first, last + 1)
    high.fill(-1, first, last + 1)
    if (area < least) continue
    const hull = convexHull(rim)
    outlines.push({ hull, solidity: area / Math.max(1, polygonArea(hull)), area })
  }
  return outlines
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
