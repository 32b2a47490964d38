import { describe, expect, it } from 'vitest'
import { openCv } from '#adapters/photo/opencv'
import { bend, straighten } from '#core/detect/plane-map'
import { ringCentreAt, type SheetCamera } from '#core/detect/sheet/sheet-camera'
import { targetMm } from '#core/detect/sheet/target-places'
import { applyHomography, fitHomography } from '#core/numeric/homography'
import { cameraFor } from './photograph-shapes.ts'

const shot = { width: 1200, height: 900, tiltDeg: 30, leanDeg: 20, rollDeg: 40, fill: 0.8, aim: [0, 0], k: 0 } as const

/** Middle of the extremes of a seen circle in two directions: an ellipse's centre halves each chord between parallel tangents. */
const middleOfExtremes = (camera: SheetCamera, centre: readonly [number, number]): readonly number[] => {
  const edge = Array.from({ length: 20_000 }, (_, n) => {
    const angle = (2 * Math.PI * n) / 20_000
    return applyHomography(camera.homography, [centre[0] + targetMm.outer * Math.cos(angle), centre[1] + targetMm.outer * Math.sin(angle)])
  })
  return [0, 1].map((axis) => {
    const values = edge.map((point) => point[axis] ?? 0)
    return (values.reduce((a, b) => Math.min(a, b)) + values.reduce((a, b) => Math.max(a, b))) / 2
  })
}

describe('sheet camera', () => {
  it('knows that a tilted circle’s image is not centred on the image of its centre', () => {
    const camera = cameraFor(shot)
    for (const centre of [[85, 120], [-85, 54], [0, -120]] as const) {
      const [x = 0, y = 0] = middleOfExtremes(camera, centre)
      const modelled = ringCentreAt(camera, centre)
      // The extremes of 20 000 points miss the true ones by R·(π/20 000)²/2 < 1e-6 px.
      expect(modelled[0]).toBeCloseTo(x, 5)
      expect(modelled[1]).toBeCloseTo(y, 5)
      expect(Math.hypot(...applyHomography(camera.homography, centre).map((v, i) => v - (modelled[i] ?? 0)))).toBeGreaterThan(0.02)
    }
  })

  it('undoes its own lens term', () => {
    for (const k of [-0.2, -0.05, 0, 0.05, 0.2]) {
      const radial = { k, centrePx: [599.5, 449.5], scalePx: 750 } as const
      const [x, y] = straighten(radial, bend(radial, [1100, 30]))
      expect([x, y]).toEqual([expect.closeTo(1100, 8), expect.closeTo(30, 8)])
    }
  })
})

describe('homography', () => {
  it('agrees with one worked by hand: the unit square seen as (0,0) (2,0) (1.5,1) (0.5,1) has depth 1 + y', () => {
    // (x, y) → ((2x + y) / (1 + y), 2y / (1 + y)): put in the corners.
    const map = fitHomography([[0, 0], [1, 0], [1, 1], [0, 1]], [[0, 0], [2, 0], [1.5, 1], [0.5, 1]])
    for (const [n, due] of [2, 1, 0, 0, 2, 0, 0, 1, 1].entries()) expect(map?.[n]).toBeCloseTo(due, 10)
  })

  it('agrees with OpenCV’s findHomography on exact points', () => {
    const camera = cameraFor({ ...shot, tiltDeg: 25 })
    const from = [[-85, -120], [85, -110], [80, 122], [-84, 118], [0, 50], [30, -70]] as const
    const to = from.map((point) => applyHomography(camera.homography, point))
    const ours = fitHomography(from, to)
    const cv = openCv()
    const matrix = (points: readonly (readonly number[])[]) => cv.matFromArray(points.length, 1, cv.CV_64FC2, points.flat())
    const [a, b] = [matrix(from), matrix(to)]
    const theirs = cv.findHomography(a, b, 0)
    // OpenCV refines in single precision of its corners' spread: 1e-6 relative.
    for (let n = 0; n < 9; n++) expect(theirs.data64F[n]).toBeCloseTo(ours?.[n] ?? Number.NaN, 3)
    for (const mat of [a, b, theirs]) mat.delete()
  })
})
