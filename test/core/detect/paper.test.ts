import { findPartialPaper } from '#core/detect/paper/find-partial'
import { findPaperQuad } from '#core/detect/paper/find-quad'
import { fitPaper } from '#core/detect/paper/fit-paper'
import { choosePaper, otherSizes } from '#core/detect/paper/paper-size'
import { partialSurface } from '#core/detect/paper/partial-surface'
import { planeMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { bareSurface, frameOf } from '#core/detect/surface'
import { applyHomography, type Homography, invertHomography } from '#core/numeric/homography'
import { describe, expect, it } from 'vitest'

/** A sheet seen by a pinhole camera (worked out here from the rotation about x, then z), focal length 0.8 of the longer side. */
const camera = (tiltDeg: number, rollDeg: number, [w, h]: readonly [number, number], distance = 560): Homography => {
  const t = (tiltDeg * Math.PI) / 180
  const r = (rollDeg * Math.PI) / 180
  const f = 0.8 * 800
  const [ct, st, cr, sr] = [Math.cos(t), Math.sin(t), Math.cos(r), Math.sin(r)]
  const axes = [[cr, -sr * ct], [sr, cr * ct], [0, st]] as const
  const row = (i: 0 | 1 | 2): [number, number, number] => {
    const [a, b] = axes[i]
    return [a, b, -(a * w) / 2 - (b * h) / 2 + (i === 2 ? distance : 0)]
  }
  const [x, y, z] = [row(0), row(1), row(2)]
  return [...x.map((v, i) => f * v + 299.5 * (z[i] as number)), ...y.map((v, i) => f * v + 399.5 * (z[i] as number)), ...z] as unknown as Homography
}

/** How many of 4 × 4 places in a pixel lie on the sheet. */
const sixteenths = (back: Homography, [x, y]: Point, [w, h]: readonly [number, number]): number =>
  Array.from({ length: 16 }, (_, k) => applyHomography(back, [x + ((k % 4) - 1.5) / 4, y + (Math.floor(k / 4) - 1.5) / 4])).filter(([u, v]) => u > 0 && v > 0 && u < w && v < h).length

/** Grey of a pixel partly on the sheet: a sensor adds up light, and grey is its 1/2.2th power (IEC 61966-2-1 on the whole). */
const mixed = (share: number): number => (share * 210 ** 2.2 + (1 - share) * 70 ** 2.2) ** (1 / 2.2)

/** Bright sheet on a dark ground, edges smoothed over a pixel by 4 × 4 samples (simulated). */
const photograph = (map: Homography, [w, h]: readonly [number, number], ruledMm = 0): Raster => {
  const back = invertHomography(map)
  const grey = new Uint8Array(600 * 800)
  for (let y = 0; y < 800; y++) {
    for (let x = 0; x < 600; x++) {
      const [u, v] = applyHomography(back, [x, y])
      const depth = Math.min(u, v, w - u, h - v)
      const inside = depth > 3 ? 16 : depth < -3 ? 0 : sixteenths(back, [x, y], [w, h])
      const ruled = ruledMm > 0 && inside === 16 && v % ruledMm < 1 ? 25 : 0
      grey[y * 600 + x] = mixed(inside / 16) - ruled + ((x * 7 + y * 13) % 5)
    }
  }
  return { width: 600, height: 800, grey }
}

const A4 = [210, 297] as const
const LETTER = [215.9, 279.4] as const
const PICTURE = { width: 600, height: 800 }

/** The same sheet where two of its sides are folds: beyond them paper goes on, a little darker as it leans away from the light. */
const folded = (map: Homography, size: readonly [number, number]): Raster => {
  const { grey, ...picture } = photograph(map, size)
  const back = invertHomography(map)
  const more = grey.map((g, i) => {
    const [u, v] = applyHomography(back, [i % 600, Math.floor(i / 600)])
    return (u > size[0] && v < size[1]) || (v < 0 && u > 0) ? Math.max(g, mixed(1) - 6 + (i % 5)) : g
  })
  return { ...picture, grey: more }
}

describe('paper in a photo', () => {
  it('does not end at a fold', () => {
    const map = camera(10, 5, A4)
    const found = (raster: Raster): boolean => findPaperQuad(raster, (corners) => choosePaper(corners, PICTURE)?.misfit ?? 99) !== null
    expect(found(photograph(map, A4))).toBe(true)
    expect(found(folded(map, A4))).toBe(false)
  })

  it.each([[A4, 0, 3], [A4, 20, -8], [LETTER, 0, 5], [LETTER, 25, 12]] as const)('of %j mm, tilted by %i° and rolled by %i°, is recognised and its plane found to 0.1 mm', (size, tilt, roll) => {
    const map = camera(tilt, roll, size)
    const raster = photograph(map, size)
    const quad = findPaperQuad(raster, (corners) => choosePaper(corners, PICTURE)?.misfit ?? 99)
    if (quad === null) throw new Error('no paper')
    const choice = choosePaper(quad.corners, PICTURE)
    expect([...(choice?.sizeMm ?? [])].sort()).toEqual([...size].sort())
    if (choice === null) return
    const fit = fitPaper(quad, choice, PICTURE)
    const places: readonly Point[] = [[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]], [100, 150]]
    // The sheet's frame may start at any corner: lengths are what must agree.
    const seen = places.map((place) => toPlane(fit.map, applyHomography(map, place)))
    places.forEach((a, i) => places.forEach((b, j) => {
      const [p, q] = [seen[i] as Point, seen[j] as Point]
      expect(Math.abs(Math.hypot(p[0] - q[0], p[1] - q[1]) - Math.hypot(a[0] - b[0], a[1] - b[1]))).toBeLessThan(0.1)
    }))
  })

  it.each([[0, 17], [10, 17], [15, -17]] as const)('whose corners are out of view, tilted by %i° and rolled by %i°, is found from its four sides', (tilt, roll) => {
    const map = camera(tilt, roll, A4, 290)
    const paper = findPartialPaper(photograph(map, A4), [A4, LETTER])
    if (paper === null) throw new Error('no paper')
    expect([paper.whole, ...paper.sizeMm].sort()).toEqual([true, ...A4].sort())
    const places: readonly Point[] = [[40, 50], [160, 50], [160, 250], [40, 250], [100, 150]]
    const seen = places.map((place) => toPlane(paper.fit.map, applyHomography(map, place)))
    // Half a millimetre at the ends of 230 mm: corners fixed to a few tenths of a px by extrapolated sides.
    places.forEach((a, i) => places.forEach((b, j) => {
      const [p, q] = [seen[i] as Point, seen[j] as Point]
      expect(Math.abs(Math.hypot(p[0] - q[0], p[1] - q[1]) - Math.hypot(a[0] - b[0], a[1] - b[1]))).toBeLessThan(0.5)
    }))
  })

  it('whose corners are out of view has them beyond the picture’s edges, where a hand may put them right', () => {
    const map = camera(10, 17, A4, 290)
    const { cornersPx } = frameOf(partialSurface(photograph(map, A4), { paperMm: A4 }) ?? bareSurface)
    const truth = ([[0, 0], [210, 0], [210, 297], [0, 297]] as const).map((p) => applyHomography(map, p))
    expect(cornersPx?.length).toBe(4)
    // 2 px where the sides are drawn out by a third of their length in view; which corner comes first is not told.
    for (const corner of truth) expect(Math.min(...(cornersPx ?? []).map(([x, y]) => Math.hypot(x - corner[0], y - corner[1])))).toBeLessThan(2)
  })

  it('does not end at a ruled line', () => {
    const map = camera(12, 17, A4, 290)
    const raster = photograph(map, A4, 8)
    const quad = findPaperQuad(raster, (corners) => choosePaper(corners, PICTURE)?.misfit ?? 99)
    // A corner of the sheet is out of view, so any four sides found must not lie inside it.
    expect(quad).toBeNull()
    expect(findPartialPaper(raster, [A4, LETTER])?.whole).toBe(true)
  })

  it('is not found where there is none', () => {
    const raster: Raster = { width: 600, height: 800, grey: Uint8Array.from({ length: 480_000 }, (_, i) => 120 + ((i * 31) % 7)) }
    expect(findPaperQuad(raster, () => 0)).toBeNull()
  })

  it('of a given size that no camera could see so is told by its misfit', () => {
    const map = camera(10, 4, A4)
    const corners = ([[0, 0], [210, 0], [210, 297], [0, 297]] as const).map((p) => applyHomography(map, p)) as unknown as readonly [Point, Point, Point, Point]
    expect(choosePaper(corners, PICTURE, [100, 400])?.misfit).toBeGreaterThan(100)
    expect(choosePaper(corners, PICTURE)?.misfit).toBeLessThan(2)
    expect(planeMap(map).radial).toBeNull()
  })

  // What other sizes the corners of a sheet leave open when nobody said its size.
  it.each([
    ['none for A4', A4, 0, ''],
    ['the shape that the perspective tells for a card a tenth longer than A4', [210, 327], 1, '210 × 297 mm, which its shape in the photo fits poorly'],
  ] as const)('leaves %s', (_, size, maps, said) => {
    const map = camera(18, 20, size)
    const corners = ([[0, 0], [size[0], 0], size, [0, size[1]]] as const).map((p) => applyHomography(map, p)) as unknown as Parameters<typeof choosePaper>[0]
    const choice = choosePaper(corners, PICTURE)
    const other = choice === null ? null : otherSizes(corners, choice, PICTURE)
    expect(other?.maps.length).toBe(maps)
    expect(other?.doubts.join()).toContain(said)
    // Told from the perspective alone, its sides have the card's own ratio (pinhole camera: closed form above).
    for (const told of other?.maps ?? []) {
      const [a, b, c] = corners.slice(0, 3).map((p) => applyHomography(told, p)) as readonly Point[] as readonly [Point, Point, Point]
      expect(Math.hypot(c[0] - b[0], c[1] - b[1]) / Math.hypot(b[0] - a[0], b[1] - a[1])).toBeCloseTo(327 / 210, 1)
    }
  })
})
