import { type Disc, nearDiscs } from '#core/numeric/near-discs'
import { centreLineAt, type StrokeModel } from './stroke-model.ts'
import type { StrokeFit } from './fit-stroke.ts'

/**
 * Where one stroke's ink runs into another's, each is placed by a model of the other: a band of one width, though a pen's varies by a
 * tenth. So much of its width may it be off, sideways (seen on rendered pens, scripts/bench/detect.ts; no source).
 */
const MISTAKEN = 0.08
/** Blurs of bare paper between two strokes from which on neither tells of the other: a phone's sharpening and JPEG carry ink farther than the blur does. */
const CLEAR = 5
const TAUS = [-1, -0.5, 0, 0.5, 1]

/** Least distance of b's centre line from a's where it lies beside it, px; infinite where it nowhere does. */
const nearest = (a: StrokeModel, b: StrokeModel): number => {
  const [ux, uy] = a.along
  return TAUS.reduce((least, tau) => {
    const [x, y] = centreLineAt(b, tau)
    const t = (x - a.middle[0]) * ux + (y - a.middle[1]) * uy
    if (Math.abs(t) > a.halfLength) return least
    const [ax, ay] = centreLineAt(a, t / a.halfLength)
    return Math.min(least, Math.abs((y - ay) * ux - (x - ax) * uy))
  }, Number.POSITIVE_INFINITY)
}

/** Farther from its middle than this, px, neither a stroke nor the paper that keeps it clear of others goes. */
const farthestOf = ({ middle: [x, y], halfLength, halfWidth, sigma }: StrokeModel): Disc => [x, y, halfLength + halfWidth + CLEAR * sigma]

/** How far strokes run into each other: 1 where their edges meet, 0 where paper of five blurs lies between. */
const meeting = (a: StrokeModel, b: StrokeModel): number => {
  const paper = Math.min(nearest(a, b), nearest(b, a)) - a.halfWidth - b.halfWidth
  return Math.max(0, Math.min(1, 1 - paper / (CLEAR * Math.max(a.sigma, b.sigma))))
}

/** Standard uncertainty of each stroke's sideways place for what its neighbours' ink does to it, px. */
export const mistakenByTouch = (fits: readonly StrokeFit[]): number[] => {
  const models = fits.map((fit) => fit.model)
  const near = nearDiscs(models, farthestOf)
  const most = (own: StrokeModel): number => Math.max(0, ...near(farthestOf(own)).map((i) => models[i] as StrokeModel).map((other) => (other === own ? 0 : meeting(own, other))))
  return models.map((own) => 2 * own.halfWidth * MISTAKEN * most(own))
}

/** Pieces of one stroke lie beside each other for no more than this share of the shorter's half, a third of all of it. */
const BESIDE = 0.67

/** Does one stroke begin about where the other ends, or farther on? Then they may be pieces of one, where they are near enough. */
export const inTurn = (a: StrokeModel, b: StrokeModel): boolean => {
  const t = (b.middle[0] - a.middle[0]) * a.along[0] + (b.middle[1] - a.middle[1]) * a.along[1]
  return a.halfLength + b.halfLength - Math.abs(t) < BESIDE * Math.min(a.halfLength, b.halfLength)
}
