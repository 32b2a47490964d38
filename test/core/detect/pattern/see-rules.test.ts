import { cosTiltOf, seeRules } from '#core/detect/pattern/see-rules'
import { composeHomographies, type Homography, invertHomography } from '#core/numeric/homography'
import { describe, expect, it } from 'vitest'
import { tiltedPlane } from '../tilted-camera.ts'

// Closed form: a pinhole camera of the usual focal length (0.85 of the longer side) over a plane tilted by 24°, worked out apart from the code under test.
const raster = { width: 1000, height: 760, grey: new Uint8Array(0) }
const camera = (focal: number) => tiltedPlane({ focal, axis: [499.5, 379.5], tiltDeg: 24, leanDeg: 52, place: [460, 400], scale: 1.3 })

/** Photo → lines 1 / pitch of a plane unit apart that are turned on it, and a second coordinate that tells nothing. */
const linesAt = (plane: Homography, turn: number, pitch: number): Homography =>
  composeHomographies([Math.cos(turn) / pitch, Math.sin(turn) / pitch, 0.3, 0.4, 1.7, 5, 0, 0, 1], invertHomography(plane))

describe('the plane of evenly spaced lines', () => {
  it('is seen as it is, whichever way they run: plane → map is a similarity that makes their spacing 1', () => {
    for (const turn of [0, 0.7, 2, -1.2]) {
      const [a, b, , d, e, , g, h] = composeHomographies(seeRules(linesAt(camera(850), turn, 8), raster, 0), camera(850))
      ;[Math.cos(turn) / 8, Math.sin(turn) / 8, -Math.sin(turn) / 8, Math.cos(turn) / 8, 0, 0].forEach((value, i) => expect([a, b, d, e, g, h][i]).toBeCloseTo(value, 10))
    }
  })

  it('needs the focal length: told of one e^0.2 times the usual, it is seen right by that lens and not by the usual one', () => {
    const plane = camera(850 * Math.exp(0.2))
    const seenAs = (lnFocal: number) => composeHomographies(seeRules(linesAt(plane, 0.7, 8), raster, lnFocal), plane)
    const skew = ([a, b, , d, e]: Homography): number => (a * d + b * e) / (a * a + b * b)
    expect(skew(seenAs(0.2))).toBeCloseTo(0, 10)
    expect(Math.abs(skew(seenAs(0)))).toBeGreaterThan(0.01)
  })

  it('tilts by 24°, and not at all seen square on', () => {
    expect(cosTiltOf(linesAt(camera(850), 0.7, 8), raster)).toBeCloseTo(Math.cos((24 * Math.PI) / 180), 10)
    expect(cosTiltOf([1, 0, 0, 0, 1, 0, 0, 0, 1], raster)).toBe(1)
  })
})
