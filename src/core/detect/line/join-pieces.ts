import type { RidgePoints } from './ridge.ts'
import { type Segment, segmentFrom } from './straight-pieces.ts'

const MOST_GAP = 14

/** Signed place along and distance aside of a point, seen from a segment's middle. */
const seenFrom = (s: Segment, x: number, y: number): readonly [along: number, aside: number] => {
  const dx = x - s.middle[0]
  const dy = y - s.middle[1]
  return [dx * s.along[0] + dy * s.along[1], Math.abs(dx * s.along[1] - dy * s.along[0])]
}

/** Does `piece` lie on the straight continuation of `stem`, with no more than a small gap between them? */
const continues = (stem: Segment, piece: Segment): boolean => {
  const sine = Math.abs(stem.along[0] * piece.along[1] - stem.along[1] * piece.along[0])
  if (sine > 0.07 + 1.2 / Math.min(stem.length, piece.length)) return false
  const [t0, d0] = seenFrom(stem, piece.p0[0], piece.p0[1])
  const [t1, d1] = seenFrom(stem, piece.p1[0], piece.p1[1])
  const gap = Math.max(Math.min(t0, t1), -Math.max(t0, t1)) - stem.length / 2
  if (gap > Math.min(MOST_GAP, 4 + 0.25 * Math.max(stem.length, piece.length)) || gap < -4) return false
  const near = Math.abs(t0) < Math.abs(t1) ? d0 : d1
  return near < 1.4 + 0.02 * Math.max(0, gap) && Math.max(d0, d1) < 1.6 + 0.05 * piece.length
}

/** Joins pieces that lie on one straight line, as where another line crosses a stroke or the ink has skipped. */
export const joinPieces = (ridge: RidgePoints, pieces: readonly Segment[]): Segment[] => {
  const left = [...pieces].sort((a, b) => b.length - a.length)
  const taken = new Uint8Array(left.length)
  const xs = Float64Array.from(left, (s) => s.middle[0])
  const ys = Float64Array.from(left, (s) => s.middle[1])
  const lengths = Float64Array.from(left, (s) => s.length)
  const joined: Segment[] = []
  for (let i = 0; i < left.length; i++) {
    if (taken[i] === 1) continue
    let stem = left[i] as Segment
    for (let again = true; again; ) {
      again = false
      const [x, y] = stem.middle
      for (let j = i + 1; j < left.length; j++) {
        if (taken[j] === 1 || Math.abs((xs[j] as number) - x) + Math.abs((ys[j] as number) - y) > 0.71 * (stem.length + (lengths[j] as number)) + 30) continue
        const piece = left[j] as Segment
        if (!continues(stem, piece)) continue
        const grown = segmentFrom(ridge, Int32Array.of(...stem.points, ...piece.points), Math.max(stem.lineLength, piece.lineLength))
        if (grown === null || grown.rms > 0.8 + 0.01 * grown.length) continue
        stem = grown
        taken[j] = 1
        again = true
      }
    }
    joined.push(stem)
  }
  return joined
}
