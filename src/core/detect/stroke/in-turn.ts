import type { StrokeModel } from './stroke-model.ts'

/** Pieces of one stroke lie beside each other for no more than this share of the shorter's half, a third of all of it. */
const BESIDE = 0.67

/** Does one stroke begin about where the other ends, or farther on? Then they may be pieces of one, where they are near enough. */
export const inTurn = (a: StrokeModel, b: StrokeModel): boolean => {
  const t = (b.middle[0] - a.middle[0]) * a.along[0] + (b.middle[1] - a.middle[1]) * a.along[1]
  return a.halfLength + b.halfLength - Math.abs(t) < BESIDE * Math.min(a.halfLength, b.halfLength)
}
