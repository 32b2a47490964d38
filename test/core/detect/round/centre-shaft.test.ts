import { photoPlane, planeMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { roundThings } from '#core/detect/round/centre-shaft'
import { erf } from '#core/numeric/error-function'
import { seededRandom } from '#core/numeric/seeded-random'
import { invertHomography, type Homography } from '#core/numeric/homography'
import { describe, expect, it } from 'vitest'

/** A disc of one brightness, px. */
interface Disc {
  readonly centre: Point
  readonly radius: number
  readonly grey: number
}

const SIZE = 400

/** Discs over paper of 200, later ones on top, blurred, with white noise; seen by a map from the photo to the plane they lie in (simulated). */
const photoOf = (discs: readonly Disc[], map: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1]): Raster => {
  const random = seededRandom(3)
  const noise = (): number => 2 * Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  const plane = planeMap(map)
  const grey = Uint8Array.from({ length: SIZE * SIZE }, (_, i) => {
    const [x, y] = toPlane(plane, [i % SIZE, Math.floor(i / SIZE)])
    const seen = discs.reduce((under, { centre, radius, grey: own }) => {
      const inside = 0.5 * (1 - erf((Math.hypot(x - centre[0], y - centre[1]) - radius) / (Math.SQRT2 * 1.2)))
      return under + inside * (own - under)
    }, 200)
    return Math.max(0, Math.min(255, Math.round(seen + noise())))
  })
  return { width: SIZE, height: SIZE, grey }
}

const wish = { near: [204, 195] as const, reach: 20, radius: 150, perMm: 2, rectified: true, paper: 200 }

describe('round things where the shaft is', () => {
  it('are a shaft’s end and the hole about it, each with its own centre', () => {
    const raster = photoOf([{ centre: [201, 199.5], radius: 14, grey: 30 }, { centre: [200, 200.3], radius: 8, grey: 120 }])
    const { shaft, hole } = roundThings(raster, photoPlane, wish)
    // A tenth of a px or so: edges of 8 px radius under noise of 2 grey levels.
    expect(Math.hypot((shaft?.centre[0] ?? 0) - 200, (shaft?.centre[1] ?? 0) - 200.3)).toBeLessThan(0.25)
    expect(Math.hypot((hole?.centre[0] ?? 0) - 201, (hole?.centre[1] ?? 0) - 199.5)).toBeLessThan(0.15)
  })

  it('are a boss on a dark motor face: the shaft’s, as no paper is about it', () => {
    const raster = photoOf([{ centre: [200, 200], radius: 60, grey: 60 }, { centre: [200, 200], radius: 22, grey: 95 }])
    const { shaft } = roundThings(raster, photoPlane, wish)
    expect(Math.hypot((shaft?.centre[0] ?? 0) - 200, (shaft?.centre[1] ?? 0) - 200)).toBeLessThan(0.2)
  })

  it('are none on bare paper, nor where only an edge or a cross is', () => {
    expect(roundThings(photoOf([]), photoPlane, wish)).toMatchObject({ shaft: null, hole: null })
    const cross = photoOf([])
    const crossed = { ...cross, grey: cross.grey.map((v, i) => (Math.abs((i % SIZE) - 200) < 2 && Math.abs(Math.floor(i / SIZE) - 200) < 20) || (Math.abs(Math.floor(i / SIZE) - 200) < 2 && Math.abs((i % SIZE) - 200) < 20) ? 60 : v) }
    expect(roundThings(crossed, photoPlane, wish)).toMatchObject({ shaft: null, hole: null })
    const edge = { ...cross, grey: cross.grey.map((v, i) => ((i % SIZE) + 0.4 * Math.floor(i / SIZE) > 290 ? 60 : v)) }
    expect(roundThings(edge, photoPlane, wish)).toMatchObject({ shaft: null, hole: null })
  })

  // What stands h above a plane seen at the angle v to its normal is displaced in it by h·tan v along the line of sight (by hand).
  it('are believed less along the line of sight, by the tangent of the angle of view: 1 mm at 40°', () => {
    const map: Homography = [1, 0, 0, 0, 1 / Math.cos((40 * Math.PI) / 180), 0, 0, 0, 1]
    const at = toPlane({ homography: map, inverse: invertHomography(map), radial: null }, [200, 200])
    const raster = photoOf([{ centre: at, radius: 16, grey: 30 }, { centre: at, radius: 9, grey: 120 }], map)
    const [xx, xy, yy] = roundThings(raster, planeMap(map), { ...wish, near: [at[0] + 3, at[1] - 4] }).shaft?.covariance ?? [0, 0, 0]
    expect(Math.sqrt(yy - xx)).toBeCloseTo(2 * Math.tan((40 * Math.PI) / 180), 2)
    expect(Math.abs(xy)).toBeLessThan(1e-6)
  })
})
