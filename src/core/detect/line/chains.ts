import type { Plane } from '#core/detect/plane'
import type { RidgePoints } from './ridge.ts'

/** Indices into the ridge points, in order along a line. */
export type Chain = readonly number[]

/** Largest turn from one point to the next, rad. */
const MOST_TURN = 0.6

/** Angle between two undirected lines, 0 … π/2. */
const lineAngle = (a: number, b: number): number => {
  const d = Math.abs(a - b) % Math.PI
  return d > Math.PI / 2 ? Math.PI - d : d
}

/** The unused point best placed to go on from `from` in the heading (hx, hy), up to two pixels away; −1 for none. */
const nextPoint = (points: RidgePoints, used: Uint8Array, width: number, from: number, [hx, hy]: readonly [number, number]): number => {
  const x = points.x[from] as number
  const y = points.y[from] as number
  const column = Math.round(x)
  const row = Math.round(y)
  let best = -1
  let least = 2.4
  for (let dy = -2; dy <= 2; dy++) {
    for (let dx = -2; dx <= 2; dx++) {
      const candidate = points.at[(row + dy) * width + column + dx] ?? -1
      if (candidate < 0 || candidate === from || used[candidate] === 1) continue
      const ex = (points.x[candidate] as number) - x
      const ey = (points.y[candidate] as number) - y
      const along = ex * hx + ey * hy
      if (along < 0.3) continue
      const aside = Math.abs(ey * hx - ex * hy)
      const turn = lineAngle(points.direction[candidate] as number, points.direction[from] as number)
      if (turn > MOST_TURN || aside > 0.8 * along) continue
      const cost = along + 1.5 * aside + turn
      if (cost < least) {
        least = cost
        best = candidate
      }
    }
  }
  return best
}

const walk = (points: RidgePoints, used: Uint8Array, width: number, start: number, sign: 1 | -1): number[] => {
  const found: number[] = []
  const angle = points.direction[start] as number
  let heading: readonly [number, number] = [sign * Math.cos(angle), sign * Math.sin(angle)]
  for (let at = nextPoint(points, used, width, start, heading); at >= 0; at = nextPoint(points, used, width, at, heading)) {
    used[at] = 1
    found.push(at)
    const a = points.direction[at] as number
    const side = Math.cos(a) * heading[0] + Math.sin(a) * heading[1] >= 0 ? 1 : -1
    heading = [side * Math.cos(a), side * Math.sin(a)]
  }
  return found
}

/**
 * Joins ridge points into lines, strongest first, each point once.
 * @param seed least strength to start a line from; weaker points only continue one
 */
export const linkChains = (points: RidgePoints, plane: Plane, seed: number, leastPoints: number): Chain[] => {
  const order: number[] = []
  for (let i = 0; i < points.count; i++) if ((points.strength[i] as number) >= seed) order.push(i)
  order.sort((a, b) => (points.strength[b] as number) - (points.strength[a] as number))
  const used = new Uint8Array(points.count)
  const chains: Chain[] = []
  for (const start of order) {
    if (used[start] === 1) continue
    used[start] = 1
    const back = walk(points, used, plane.width, start, -1).reverse()
    const chain = [...back, start, ...walk(points, used, plane.width, start, 1)]
    if (chain.length >= leastPoints) chains.push(chain)
  }
  return chains
}
