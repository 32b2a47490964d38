import { describe, expect, it } from 'vitest'
import { bowDoubts, mapDoubt } from '#core/detect/bearing-doubts'
import { flatDoubts } from '#core/detect/dial/dial-doubts'
import { movedCorners, seenAt } from '#core/detect/paper/corners-surface'
import { fitPaper } from '#core/detect/paper/fit-paper'
import type { Quad } from '#core/detect/paper/find-quad'
import { sheetCorners } from '#core/detect/paper/paper-size'
import { type PlaneMap, planeMap, radialAbout, toPhoto } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { fitHomography, type Homography } from '#core/numeric/homography'

const PICTURE = { width: 1600, height: 1200 }
const A4 = [297, 210] as const
/** Slightly aslant, some 5 px per mm. */
const CORNERS: Quad = [[70, 80], [1530, 110], [1500, 1110], [100, 1080]]
const HOMOGRAPHY = fitHomography(CORNERS, sheetCorners(A4)) as Homography

/** The four sides of a sheet as a lens shows them, each bowed outward by so many mm between middle and ends. */
const sidesSeen = (map: PlaneMap, bowsMm: readonly [number, number, number, number]) =>
  bowsMm.map((bow, side) => {
    const points = Array.from({ length: 120 }, (_, i): Point => {
      const t = (i + 0.5) / 120
      const out = bow * (1 / 3 - (2 * t - 1) ** 2)
      const [w, h] = A4
      return toPhoto(map, ([[t * w, -out], [w + out, t * h], [w - t * w, h + out], [-out, h - t * h]] as const)[side] as Point)
    })
    return { points, support: 1 }
  })

const fitOf = (k: number, bows: readonly [number, number, number, number]) => {
  const map = planeMap(HOMOGRAPHY, radialAbout(PICTURE.width, PICTURE.height, k))
  const corners = sheetCorners(A4).map((p) => toPhoto(map, p)) as unknown as Quad
  return fitPaper({ corners, edges: sidesSeen(map, bows), support: 1 }, { sizeMm: A4, homography: HOMOGRAPHY, margin: 99, next: null, misfit: 0 }, PICTURE)
}

const marks = Array.from({ length: 40 }, (_, i): Point => [800 + 300 * Math.cos(0.05 * i), 600 + 300 * Math.sin(0.05 * i)])

describe('a sheet that does not lie flat', () => {
  it.each([0, -0.04, 0.03])('shows no bow where it does, whatever the lens: k = %d', (k) => {
    expect(fitOf(k, [0, 0, 0, 0]).bow.px).toBeLessThan(0.02)
  })

  // Two opposite sides bowed the same way, as no lens does it: 1 mm at two of four sides is an rms of 1/√2 mm, 3.5 px; a part is taken up by the fit.
  it('shows by the bow of its edges', () => {
    const { px, uPx } = fitOf(0.01, [1, 0, -1, 0]).bow
    expect(px).toBeGreaterThan(2.5)
    expect(px).toBeLessThan(3.8)
    expect(px).toBeGreaterThan(3 * uPx)
  })

  // Half of 2 px at 300 px: 1/300 rad.
  it('leaves in the angles what half its bow is worth there', () => {
    bowDoubts(marks, [800, 600], 2).forEach((u) => expect(u).toBeCloseTo(((1 / 300) * 180) / Math.PI, 9))
  })

  it('is told with its cure where it matters, and not where edges are straight to what can be seen', () => {
    expect(flatDoubts({ px: 2, uPx: 0.4 }, { pixelsPerMm: 5, bentDeg: 0.19 })).toEqual([expect.stringMatching(/bow by 0\.40 mm.*0\.2°.*press it flat/)])
    expect(flatDoubts({ px: 2, uPx: 0.4 }, { pixelsPerMm: null, bentDeg: 0.19 })[0]).toContain('2.0 px')
    expect(flatDoubts({ px: 0.3, uPx: 0.05 }, { pixelsPerMm: 5, bentDeg: 0.03 })).toEqual([])
    expect(flatDoubts({ px: 2, uPx: 1 }, { pixelsPerMm: 5, bentDeg: 0.19 })).toEqual([])
    expect(flatDoubts(undefined, { pixelsPerMm: 5, bentDeg: 0 })).toEqual([])
  })
})

describe('the ways a sheet with known corners may lie', () => {
  // Moved by nothing they are the map itself: the lens that was fitted is no doubt about it.
  it('are seen through the lens that was fitted', () => {
    const radial = radialAbout(PICTURE.width, PICTURE.height, -0.03)
    const [map] = seenAt(CORNERS, A4, radial) as [PlaneMap]
    expect(mapDoubt(marks, [800, 600], map, movedCorners(CORNERS, A4, 0, radial))).toBeLessThan(1e-9)
    expect(mapDoubt(marks, [800, 600], map, movedCorners(CORNERS, A4, 0))).toBeGreaterThan(0.02)
  })
})
