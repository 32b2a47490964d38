import { algebraicEllipse } from '#core/numeric/algebraic-ellipse'
import { circleHomography } from '#core/numeric/circle-homography'
import { type EllipseShape, ellipseFromAxes } from '#core/numeric/ellipse'
import { applyHomography, type Homography } from '#core/numeric/homography'
import { describe, expect, it } from 'vitest'

type Pair = readonly [number, number]
const DEG = Math.PI / 180
const at = (radius: number, deg: number): Pair => [radius * Math.cos(deg * DEG), radius * Math.sin(deg * DEG)]

/** Paper (origin at the shaft) to photo, from a hand-made matrix with true perspective. */
const photo: Homography = [5.1, 0.6, 812, -0.4, 4.2, 590, 4e-4, -7e-4, 1]
const ellipseOf = (radius: number): EllipseShape => {
  const ellipse = algebraicEllipse(Array.from({ length: 24 }, (_, i) => applyHomography(photo, at(radius, 15 * i))))
  if (ellipse === null) throw new Error('no ellipse')
  return ellipse
}

const bearingsBy = (map: Homography, points: readonly Pair[]): number[] => points.map((p) => applyHomography(map, p)).map(([x, y]) => Math.atan2(y, x) / DEG)

/** Differences from the true bearings, their mean aside, deg. */
const bends = (map: Homography, places: readonly Pair[], bearings: readonly number[]): number[] => {
  const off = bearingsBy(map, places).map((b, i) => ((b - (bearings[i] as number) + 900) % 360) - 180)
  const mean = off.reduce((sum, v) => sum + v, 0) / off.length
  return off.map((v) => v - mean)
}

describe('rectification from a circle and the image of its centre', () => {
  it('undoes a known homography but for one turn and one scale (closed form, exact)', () => {
    const map = circleHomography(ellipseOf(70), applyHomography(photo, [0, 0]))
    if (map === null) throw new Error('no map')
    const bearings = [3, 41, 77, 130, 188, 251, 300, 355]
    const off = bends(map, bearings.map((b, i) => applyHomography(photo, at(40 + 9 * i, b))), bearings)
    for (const value of off) expect(Math.abs(value)).toBeLessThan(1e-6)
    const radii = [20, 70, 110].map((r) => Math.hypot(...applyHomography(map, applyHomography(photo, at(r, 33)))) / r)
    expect(radii[1]).toBeCloseTo(radii[0] as number, 6)
    expect(radii[2]).toBeCloseTo(radii[0] as number, 6)
  })

  it('undoes tan θ′ = tan θ·cos t (the universal joint’s relation) at t = 30°: 8.682204 → 10 … 78.491607 → 80 (computed outside to six decimals)', () => {
    const ellipse = ellipseFromAxes([0, 0], { major: 100, minor: 100 * Math.cos(30 * DEG), tilt: 0 })
    const map = circleHomography(ellipse, [0, 0])
    if (map === null) throw new Error('no map')
    const seen = [8.682204, 17.495241, 26.565051, 40.893395, 56.309932, 78.491607]
    const back = bearingsBy(map, seen.map((deg) => at(90, deg)))
    ;[10, 20, 30, 45, 60, 80].forEach((deg, i) => expect(back[i]).toBeCloseTo(deg, 5))
  })

  it('takes out the greatest bend of each tilt, arcsin(tan²(t/2)) at arctan(1/√cos t): 0.43856° at 10°, 4.11719° at 30°, 9.87928° at 45°', () => {
    for (const [tilt, bend] of [[10, 0.43856], [30, 4.11719], [45, 9.87928]] as const) {
      const cos = Math.cos(tilt * DEG)
      const map = circleHomography(ellipseFromAxes([0, 0], { major: 50, minor: 50 * cos, tilt: 0 }), [0, 0])
      if (map === null) throw new Error('no map')
      const straight = Math.atan(1 / Math.sqrt(cos)) / DEG
      const seen = Math.atan(Math.tan(straight * DEG) * cos) / DEG
      expect(straight - seen).toBeCloseTo(bend, 4)
      expect(bearingsBy(map, [at(60, seen)])[0]).toBeCloseTo(straight, 9)
    }
  })

  it('leaves angles about the centre right to e² when the circle’s own centre is off by e of its radius (e = 1 %: under 0.006°, not 0.57°)', () => {
    const shifted = Array.from({ length: 24 }, (_, i): Pair => { const [x, y] = at(70, 15 * i); return applyHomography(photo, [x + 0.7, y]) })
    const ellipse = algebraicEllipse(shifted)
    const map = ellipse === null ? null : circleHomography(ellipse, applyHomography(photo, [0, 0]))
    if (map === null) throw new Error('no map')
    const bearings = Array.from({ length: 36 }, (_, i) => 10 * i)
    for (const value of bends(map, bearings.map((b) => applyHomography(photo, at(80, b))), bearings)) expect(Math.abs(value)).toBeLessThan(0.006)
  })

  it('stretches without turning at the centre, and refuses a centre outside', () => {
    const map = circleHomography(ellipseOf(70), applyHomography(photo, [0, 0]))
    const [x, y] = applyHomography(photo, [0, 0])
    const step = ([dx, dy]: Pair): Pair => map === null ? [Number.NaN, Number.NaN] : applyHomography(map, [x + dx * 1e-4, y + dy * 1e-4])
    expect(step([1, 0])[1]).toBeCloseTo(step([0, 1])[0], 9)
    expect(circleHomography(ellipseOf(70), [0, 0])).toBeNull()
  })
})
