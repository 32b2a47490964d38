import type { Chain, RidgePoints } from './ridge.ts'
import { type Segment, segmentFrom } from './segment.ts'

/** How far a stroke may bow from its chord: px, or this share of its length. */
const BOW_PX = 1.2
const BOW_SHARE = 0.03

/** Farthest point of chain[first … last] from the chord between its ends. */
const farthest = (ridge: RidgePoints, chain: Chain, first: number, last: number): readonly [index: number, distance: number, chord: number] => {
  const a = chain[first] as number
  const b = chain[last] as number
  const ax = ridge.x[a] as number
  const ay = ridge.y[a] as number
  const dx = (ridge.x[b] as number) - ax
  const dy = (ridge.y[b] as number) - ay
  const chord = Math.hypot(dx, dy) || 1e-9
  let index = first
  let distance = 0
  for (let i = first + 1; i < last; i++) {
    const p = chain[i] as number
    const d = Math.abs(((ridge.x[p] as number) - ax) * dy - ((ridge.y[p] as number) - ay) * dx) / chord
    if (d > distance) {
      distance = d
      index = i
    }
  }
  return [index, distance, chord]
}

/** Cuts lines where they bend (Ramer 1972) and returns the straight pieces of at least `leastPoints` points. */
export const straightPieces = (ridge: RidgePoints, chains: readonly Chain[], leastPoints: number): Segment[] => {
  const pieces: Segment[] = []
  const cut = (chain: Chain, first: number, last: number): void => {
    if (last - first + 1 < leastPoints) return
    const [index, distance, chord] = farthest(ridge, chain, first, last)
    if (distance > Math.max(BOW_PX, BOW_SHARE * chord)) {
      cut(chain, first, index)
      cut(chain, index, last)
      return
    }
    const piece = segmentFrom(ridge, chain.slice(first, last + 1), chain.length)
    if (piece !== null) pieces.push(piece)
  }
  for (const chain of chains) cut(chain, 0, chain.length - 1)
  return pieces
}
