import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { algebraicEllipse } from './algebraic-ellipse.ts'
import { type EllipseAxes, ellipseAxes, type EllipseShape, feetOn, type Foot } from './ellipse.ts'
import { type IterationLimits, levenbergMarquardt } from './levenberg-marquardt.ts'
import { robustSpread } from './median.ts'

type Pair = readonly [x: number, y: number]

export interface FittedEllipse extends EllipseShape, EllipseAxes {
  /** Covariance of (centre x, centre y, shape xx, xy, yy), scaled by the residuals; zeros for five points. */
  readonly covariance: readonly (readonly number[])[]
  /** Root of the sum of squared distances of the points that count, weighted. */
  readonly residualNorm: number
  /** Signed distance of every point, positive outside. */
  readonly distances: readonly number[]
}

export interface EllipseOptions {
  /** Whether points far off (Tukey's weights, 4.685 robust spreads) lose their say; false unless given. */
  readonly robust?: boolean
  /** An ellipse to start from instead of the algebraic one. */
  readonly start?: EllipseShape
}

const shapeOf = ([cx, cy, xx, xy, yy]: readonly number[]): EllipseShape => ({ centre: [cx as number, cy as number], shape: [xx as number, xy as number, yy as number] })

const isEllipse = ({ shape: [xx, xy, yy], centre }: EllipseShape): boolean => xx > 0 && xx * yy > xy * xy && Number.isFinite(centre[0] + centre[1] + xx + yy)

/** Least weighted squared distance; the derivatives are those of the foot's normal (the foot's own shift along the ellipse does not count). */
const refine = (points: readonly Pair[], weights: readonly number[], start: EllipseShape, limits: IterationLimits) => {
  const roots = Float64Array.from(weights, Math.sqrt)
  // The derivatives are wanted where the distances were.
  let last: { readonly at: readonly number[]; readonly feet: readonly Foot[] | null } | null = null
  const feet = (parameters: readonly number[]): readonly Foot[] | null => {
    if (last?.at === parameters) return last.feet
    const shape = shapeOf(parameters)
    last = { at: parameters, feet: isEllipse(shape) ? feetOn(shape, points) : null }
    return last.feet
  }
  return levenbergMarquardt(
    {
      residuals: (parameters) => {
        const found = feet(parameters)
        return roots.map((root, i) => (found === null ? Number.POSITIVE_INFINITY : root * (found[i] as Foot).distance))
      },
      jacobian: (parameters) => {
        const found = feet(parameters)
        const column = (of: (n: Pair, u: Pair) => number): Float64Array => (found === null ? new Float64Array(0) : roots.map((root, i) => -root * of((found[i] as Foot).normal, (found[i] as Foot).unit)))
        return [column((n) => n[0]), column((n) => n[1]), column((n, u) => n[0] * u[0]), column((n, u) => n[0] * u[1] + n[1] * u[0]), column((n, u) => n[1] * u[1])]
      },
    },
    [...start.centre, ...start.shape],
    limits,
  )
}

const tukey = (distances: readonly number[]): number[] => {
  const spread = Math.max(1e-12, robustSpread(distances))
  return distances.map((d) => Math.max(0, 1 - (d / (4.685 * spread)) ** 2) ** 2)
}

/** Longer than this many times the points' own extent, a fit has run off towards a parabola. */
const ENDLESS = 30

const CURE = 'give more points, spread over more of the curve'

/** A flat minimum wants many steps; between changes of weights a few will do. */
const TO_THE_END: IterationLimits = { iterations: 300, tolerance: 1e-17 }
const A_FEW: IterationLimits = { iterations: 10, tolerance: 1e-6 }
const TO_THE_NOISE: IterationLimits = { iterations: 60, tolerance: 1e-9 }

/** Runs the refinement to its end, with fresh weights each round when they are to be robust. */
const settle = (points: readonly Pair[], start: EllipseShape, robust: boolean) => {
  let weights = points.map(() => 1)
  let fit = refine(points, weights, start, robust ? A_FEW : TO_THE_END)
  for (let round = 0; robust && round < 6; round++) {
    const now = shapeOf(fit.parameters)
    weights = tukey(feetOn(now, points).map((foot) => foot.distance))
    if (weights.filter((w) => w > 0).length < 6) break
    fit = refine(points, weights, now, round === 5 ? TO_THE_NOISE : A_FEW)
  }
  return { fit, weights }
}

/**
 * Ellipse of least squared orthogonal distance (the "geometric" fit of Gander, Golub & Strebel, BIT 34 (1994) 558), started from
 * the algebraic one of Halíř & Flusser.
 * @returns Unmeasurable for fewer than five points, points on a line, on another conic, or on too short an arc to bend either way
 */
export const fitEllipse = (points: readonly Pair[], { robust = false, start }: EllipseOptions = {}): FittedEllipse | Unmeasurable => {
  if (points.length < 5) return unmeasurable(`an ellipse takes five points, ${points.length} were given`, 'ellipse', CURE)
  const first = start ?? algebraicEllipse(points)
  if (first === null) return unmeasurable('the points lie on a line or on no ellipse', 'ellipse', CURE)
  const { fit, weights } = settle(points, first, robust)
  const ellipse = shapeOf(fit.parameters)
  const axes = ellipseAxes(ellipse)
  const extent = Math.max(...[0, 1].map((k) => Math.max(...points.map((p) => p[k] as number)) - Math.min(...points.map((p) => p[k] as number))))
  if (!isEllipse(ellipse) || fit.inverseNormal === null || axes.major > ENDLESS * extent) return unmeasurable('the points do not settle the ellipse', 'ellipse', CURE)
  const counted = weights.reduce((sum, w) => sum + w, 0)
  const variance = counted > 5.5 ? fit.sumOfSquares / (counted - 5) : 0
  return {
    ...ellipse,
    ...axes,
    covariance: fit.inverseNormal.map((row) => row.map((v) => v * variance)),
    residualNorm: Math.sqrt(fit.sumOfSquares),
    distances: feetOn(ellipse, points).map((foot) => foot.distance),
  }
}
