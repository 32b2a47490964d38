import { imagedCentres } from '#core/detect/circle/imaged-centre'
import { fitEllipse } from '#core/numeric/fit-ellipse'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { onPhoto, tiltedPlane } from '../tilted-camera.ts'

describe('where a camera images a circle’s centre', () => {
  it('is one of the two places told by the ellipse, for planes tilted every way (closed form: the camera’s own projection of it)', () => {
    for (const [tiltDeg, leanDeg, place] of [[5, 20, [700, 500]], [20, 110, [500, 640]], [35, -50, [820, 410]], [50, 200, [640, 480]]] as const) {
      const camera = { focal: 1100, axis: [640, 480] as const, tiltDeg, leanDeg, place, scale: 1 }
      const plane = tiltedPlane(camera)
      const ellipse = fitEllipse(Array.from({ length: 30 }, (_, i) => onPhoto(plane, 220, 12 * i)))
      if (isUnmeasurable(ellipse)) throw new Error(ellipse.what)
      const off = imagedCentres(ellipse, 1100, [640, 480]).map(([x, y]) => Math.hypot(x - place[0], y - place[1]))
      expect(Math.min(...off)).toBeLessThan(1e-4)
      expect(Math.hypot(ellipse.centre[0] - place[0], ellipse.centre[1] - place[1])).toBeGreaterThan(1)
    }
  })

  it('is the middle itself for a circle seen square on', () => {
    const [a, b] = imagedCentres({ centre: [640, 480], shape: [200, 0, 200] }, 1000, [640, 480])
    for (const [x, y] of [a, b]) expect(Math.hypot(x - 640, y - 480)).toBeLessThan(1e-9)
  })
})
