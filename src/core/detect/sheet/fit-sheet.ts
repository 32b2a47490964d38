import type { Homography } from '#core/numeric/homography'
import { fitNonlinear } from '#core/numeric/fit-nonlinear'
import type { MatchedTarget } from './match-page.ts'
import { pageOfNumber } from './page-number.ts'
import { ringCentreAt, type SheetCamera } from './sheet-camera.ts'
import type { Place } from './page-size.ts'
import { pageMiddle } from './target-places.ts'

/** Frame that keeps the fit's numbers near 1: px about the picture's centre over half its diagonal, mm over 100. */
export interface FitFrame {
  readonly centrePx: readonly [number, number]
  readonly scalePx: number
}

/** What the fit adjusts: 8 of the homography, then k when it is fitted, then shift x, y (mm) and turn (rad) of each joined page. */
export interface SheetModel {
  readonly frame: FitFrame
  readonly radial: boolean
  /** Pages that were joined to the first one, each with a shift of its own. */
  readonly joined: readonly number[]
}

export interface SheetSolution {
  readonly model: SheetModel
  readonly parameters: readonly number[]
  /** Measured minus modelled, px, x and y of each target in turn. */
  readonly residuals: Float64Array
  readonly inverseNormal: readonly (readonly number[])[]
}

const mmScale = 100

/** How well pages are butted together: standard deviation of a page's shift, mm, and of its turn, rad. Common practice, no source. */
const joinMm = 0.3
const joinRad = 0.003

export const cameraOf = ({ frame, radial }: SheetModel, p: readonly number[]): SheetCamera => {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, k = 0] = p
  const { centrePx: [x0, y0], scalePx: s } = frame
  const [gm, hm] = [g / mmScale, h / mmScale]
  const homography: Homography = [
    (s * a) / mmScale + x0 * gm, (s * b) / mmScale + x0 * hm, s * c + x0,
    (s * d) / mmScale + y0 * gm, (s * e) / mmScale + y0 * hm, s * f + y0,
    gm, hm, 1,
  ]
  return { homography, radial: { k: radial ? k : 0, ...frame } }
}

/** The homography part of the parameters for a rough map. */
export const startOf = (frame: FitFrame, m: Homography): readonly number[] => {
  const { centrePx: [x0, y0], scalePx: s } = frame
  const n = m.map((value) => value / m[8])
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = n
  return [
    ((a - x0 * g) * mmScale) / s, ((b - x0 * h) * mmScale) / s, (c - x0) / s,
    ((d - y0 * g) * mmScale) / s, ((e - y0 * h) * mmScale) / s, (f - y0) / s,
    g * mmScale, h * mmScale,
  ]
}

/** Where a target of a joined page really is, its page being shifted and turned about its middle. */
const joinedPlace = (model: SheetModel, p: readonly number[], { page, mm }: MatchedTarget): Place => {
  const index = model.joined.indexOf(page)
  if (index < 0) return mm
  const at = (model.radial ? 9 : 8) + 3 * index
  const [dx = 0, dy = 0, turn = 0] = p.slice(at, at + 3)
  const [x0, y0] = pageMiddle(pageOfNumber(page))
  const [x, y] = [mm[0] - x0, mm[1] - y0]
  return [mm[0] + dx - turn * y, mm[1] + dy + turn * x]
}

const targetResiduals = (model: SheetModel, targets: readonly MatchedTarget[], p: readonly number[]): Float64Array => {
  const camera = cameraOf(model, p)
  const residuals = new Float64Array(2 * targets.length)
  targets.forEach((target, n) => {
    const [x, y] = ringCentreAt(camera, joinedPlace(model, p, target))
    residuals[2 * n] = target.ring.outer.centre[0] - x
    residuals[2 * n + 1] = target.ring.outer.centre[1] - y
  })
  return residuals
}

/** Those of the targets, and how far joined pages are from where they should be, in units of `sigmaPx`. */
const allResiduals = (model: SheetModel, targets: readonly MatchedTarget[], p: readonly number[], sigmaPx: number): number[] => {
  const shifts = p.slice(model.radial ? 9 : 8)
  return [...targetResiduals(model, targets, p), ...shifts.map((shift, j) => (sigmaPx * shift) / (j % 3 === 2 ? joinRad : joinMm))]
}

/** Least squares over all targets given. `sigmaPx`: spread of one coordinate, which weighs the targets against how well pages are joined. Null when they leave something open. */
export const solveSheet = (
  model: SheetModel,
  targets: readonly MatchedTarget[],
  { start, sigmaPx }: { readonly start: readonly number[]; readonly sigmaPx: number },
): SheetSolution | null => {
  const { parameters, cofactors: inverseNormal } = fitNonlinear((p) => allResiduals(model, targets, p, sigmaPx), start, start.map((_, j) => (j < 9 ? 0.1 : 1)), 20)
  if (inverseNormal === null || parameters.some((value) => !Number.isFinite(value))) return null
  return { model, parameters, residuals: targetResiduals(model, targets, parameters), inverseNormal }
}
