import type { Point } from '#core/detect/raster'
import { meet, polygonArea } from './outline.ts'
import type { SmallPicture } from './small-picture.ts'

const ANGLES = 120
const COSINES = Float64Array.from({ length: ANGLES }, (_, n) => Math.cos((n * Math.PI) / ANGLES))
const SINES = Float64Array.from({ length: ANGLES }, (_, n) => Math.sin((n * Math.PI) / ANGLES))
const RHO = 1.5
const LINES = 26

interface EdgeMap {
  /** Gradient direction, rad, where there is an edge; NaN elsewhere. */
  readonly direction: Float32Array
  readonly columns: number
  readonly rows: number
}

const edgeMap = ({ columns, rows, grey }: SmallPicture): EdgeMap => {
  const size = new Float32Array(columns * rows)
  const [right, down] = [new Float32Array(columns * rows), new Float32Array(columns * rows)]
  for (let y = 1; y < rows - 1; y++) {
    for (let p = y * columns + 1; p < (y + 1) * columns - 1; p++) {
      const falling = (grey[p + columns + 1] as number) - (grey[p - columns - 1] as number)
      const rising = (grey[p - columns + 1] as number) - (grey[p + columns - 1] as number)
      const gx = falling + rising + 2 * ((grey[p + 1] as number) - (grey[p - 1] as number))
      const gy = falling - rising + 2 * ((grey[p + columns] as number) - (grey[p - columns] as number))
      right[p] = gx
      down[p] = gy
      size[p] = Math.sqrt(gx * gx + gy * gy) / 8
    }
  }
  const sorted = size.slice().sort()
  const least = Math.max(1, 3 * (sorted[sorted.length >> 1] as number), 0.7 * (sorted[Math.floor(0.85 * sorted.length)] as number))
  const direction = size.map((value, p) => (value < least ? Number.NaN : Math.atan2(down[p] as number, right[p] as number)))
  return { direction, columns, rows }
}

/** A line x·cos + y·sin = rho. */
interface Line {
  readonly angle: number
  readonly rho: number
  readonly votes: number
}

/** Straight edges by a Hough vote in which each edge px votes only near its own direction (O'Gorman & Clowes 1976). */
const edgeLines = ({ direction, columns, rows }: EdgeMap): Line[] => {
  const most = Math.hypot(columns, rows)
  const width = Math.ceil((2 * most) / RHO) + 1
  const votes = new Float32Array(ANGLES * width)
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const d = direction[y * columns + x] as number
      if (Number.isNaN(d)) continue
      const middle = Math.round((d / Math.PI) * ANGLES)
      for (let k = middle - 2; k <= middle + 2; k++) {
        const n = (k + 2 * ANGLES) % ANGLES
        const rho = x * (COSINES[n] as number) + y * (SINES[n] as number)
        const cell = n * width + Math.round((rho + most) / RHO)
        votes[cell] = (votes[cell] as number) + (k === middle ? 1 : 0.7)
      }
    }
  }
  const order = Array.from(votes.keys()).filter((i) => (votes[i] as number) > 0.12 * Math.max(columns, rows)).sort((a, b) => (votes[b] as number) - (votes[a] as number))
  const lines: Line[] = []
  for (const cell of order) {
    if (lines.length >= LINES) break
    const angle = Math.floor(cell / width) * (Math.PI / ANGLES)
    const rho = (cell % width) * RHO - most
    const near = lines.some((l) => {
      const turn = Math.abs(l.angle - angle)
      const flipped = turn > Math.PI / 2
      return Math.min(turn, Math.PI - turn) < 0.09 && Math.abs((flipped ? -l.rho : l.rho) - rho) < 5
    })
    if (!near) lines.push({ angle, rho, votes: votes[cell] as number })
  }
  return lines
}

const onLine = ({ angle, rho }: Line): readonly [Point, Point] => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  return [[c * rho - 400 * s, s * rho + 400 * c], [c * rho + 400 * s, s * rho - 400 * c]]
}

/** Share of a side along which there is an edge of its direction within 2 px. */
const support = ({ direction, columns, rows }: EdgeMap, [from, to]: readonly [Point, Point]): number => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const normal = Math.atan2(to[0] - from[0], from[1] - to[1])
  const [nx, ny] = [Math.cos(normal), Math.sin(normal)]
  const places = Math.max(12, Math.round(length / 5))
  let seen = 0
  for (let i = 0; i < places; i++) {
    const t = 0.03 + (0.94 * (i + 0.5)) / places
    for (let k = -2; k <= 2; k++) {
      const x = Math.round(from[0] + t * (to[0] - from[0]) + k * nx)
      const y = Math.round(from[1] + t * (to[1] - from[1]) + k * ny)
      if (x < 0 || y < 0 || x >= columns || y >= rows) continue
      const d = direction[y * columns + x] as number
      if (Math.abs(Math.sin(d - normal)) < 0.3) {
        seen++
        break
      }
    }
  }
  return seen / places
}

const isQuad = (corners: readonly (Point | null)[], { columns, rows }: EdgeMap): corners is readonly Point[] => {
  const margin = 0.02 * Math.max(columns, rows)
  return corners.every((c) => c !== null && c[0] > -margin && c[1] > -margin && c[0] < columns + margin && c[1] < rows + margin)
}

interface Pair {
  readonly a: Line
  readonly b: Line
  readonly angle: number
}

const pairsOf = (lines: readonly Line[], least: number): Pair[] => {
  const pairs: Pair[] = []
  lines.forEach((a, i) => {
    for (const b of lines.slice(i + 1)) {
      const turn = Math.abs(a.angle - b.angle)
      const flipped = turn > Math.PI / 2
      if (Math.min(turn, Math.PI - turn) < 0.6 && Math.abs((flipped ? -b.rho : b.rho) - a.rho) > least) pairs.push({ a, b, angle: a.angle })
    }
  })
  return pairs
}

/**
 * Four-sided outlines made of straight edges, whatever is lighter or darker: for a pale sheet on a pale table.
 * Best first, at most six. Corners in px of the small picture, unordered in sense.
 */
export const edgeQuads = (small: SmallPicture): (readonly [Point, Point, Point, Point])[] => {
  const map = edgeMap(small)
  const least = 0.22 * Math.min(small.columns, small.rows)
  const pairs = pairsOf(edgeLines(map), least)
  const found: { readonly quad: readonly [Point, Point, Point, Point]; readonly worth: number }[] = []
  for (const p of pairs) {
    for (const q of pairs) {
      const between = Math.abs(Math.cos(p.angle - q.angle))
      if (p.angle >= q.angle || between > 0.7) continue
      const sides = [onLine(p.a), onLine(q.a), onLine(p.b), onLine(q.b)] as const
      const corners = [meet(...sides[3], ...sides[0]), meet(...sides[0], ...sides[1]), meet(...sides[1], ...sides[2]), meet(...sides[2], ...sides[3])]
      if (!isQuad(corners, map)) continue
      const quad = corners as unknown as readonly [Point, Point, Point, Point]
      const area = polygonArea(quad)
      if (area < 0.1 * small.columns * small.rows) continue
      const seen = quad.map((c, i) => support(map, [c, quad[(i + 1) % 4] as Point]))
      const lowest = Math.min(...seen)
      if (lowest < 0.45) continue
      found.push({ quad, worth: (lowest + seen.reduce((s, v) => s + v, 0) / 4) * Math.sqrt(area) })
    }
  }
  return found.sort((a, b) => b.worth - a.worth).slice(0, 6).map(({ quad }) => quad)
}
