import type { Raster } from '#core/detect/raster'
import { applyHomography, homographySlopes } from '#core/numeric/homography'
import { type Ellipse, ellipsePoint, meanAxis } from './ellipse.ts'
import type { MatchedTarget } from './match-page.ts'
import { pageNumber, pageOfNumber, type PagePlace, pointerReach, stripPages } from './page-number.ts'
import { readTarget } from './read-target.ts'
import { refineTarget } from './refine-target.ts'
import { greyAt } from '#core/detect/grey-at'
import { ringCentreAt, type SheetCamera } from './sheet-camera.ts'
import type { SheetPoint } from './sheet-fix.ts'
import { identityAt } from './target-code.ts'
import { targetPlaces } from './target-places.ts'
import { targetMm } from './target-shapes.ts'

const expectedRing = (camera: SheetCamera, mm: SheetPoint): Ellipse => {
  const [a, b, c, d] = homographySlopes(camera.homography, mm)
  const r = targetMm.outer
  const ideal = applyHomography(camera.homography, mm)
  const { centrePx, k, scalePx } = camera.radial
  const stretch = 1 + (k * ((ideal[0] - centrePx[0]) ** 2 + (ideal[1] - centrePx[1]) ** 2)) / scalePx ** 2
  const f = r * (Number.isFinite(stretch) ? stretch : 1)
  return { centre: ringCentreAt(camera, mm), axes: [a * f, b * f, c * f, d * f] }
}

const inside = ({ width, height }: Raster, { centre, axes }: Ellipse): boolean => {
  const [rx, ry] = [Math.hypot(axes[0], axes[1]), Math.hypot(axes[2], axes[3])]
  return centre[0] - rx > 1 && centre[1] - ry > 1 && centre[0] + rx < width - 2 && centre[1] + ry < height - 2
}

/** Whether an unread ring sits, to a third of its size, where one is due, and is as large. */
const fitsPlace = (expected: Ellipse, outer: Ellipse): boolean => {
  const size = meanAxis(expected)
  const off = Math.hypot(outer.centre[0] - expected.centre[0], outer.centre[1] - expected.centre[1])
  return off < size / 3 && Math.abs(meanAxis(outer) / size - 1) < 0.12
}

/** A cheap first look: the ring's ink darker than the paper outside it on most sides. */
const darkRing = (raster: Raster, ellipse: Ellipse): boolean => {
  const on = (part: number, n: number): number => {
    const angle = (2 * Math.PI * n) / 12
    return greyAt(raster, ellipsePoint(ellipse, part * Math.cos(angle), part * Math.sin(angle)))
  }
  const ink = (targetMm.inner + targetMm.outer) / (2 * targetMm.outer)
  return Array.from({ length: 12 }, (_, n) => on(1.16, n) - on(ink, n)).filter((step) => step > 10).length >= 7
}

/** A ring where one is expected: read as the one due there, or at least not read as another. */
const readAt = (raster: Raster, camera: SheetCamera, { page, place, mm }: Due): MatchedTarget | null => {
  const expected = expectedRing(camera, mm)
  if (!inside(raster, expected) || !darkRing(raster, expected)) return null
  const outer = refineTarget(raster, expected)
  if (!outer || !fitsPlace(expected, outer)) return null
  const reading = readTarget(raster, outer)
  const identity = identityAt(page, place)
  if (reading && reading.identity !== identity) return null
  return { ring: { outer, identity, turnRad: reading?.turnRad ?? 0 }, page, mm }
}

interface Due {
  readonly page: number
  readonly place: number
  readonly mm: SheetPoint
}

/** Pages beside this one that a sheet could have. */
const besides = ({ rig, paper, column, row }: PagePlace): readonly number[] =>
  [[-1, 0], [1, 0], [0, -1], [0, 1]].flatMap(([dx = 0, dy = 0]) => {
    const beside: PagePlace = { rig, paper, column: column + dx, row: row + dy }
    const within = rig === 'pointer'
      ? Math.max(Math.abs(beside.column), Math.abs(beside.row)) <= pointerReach
      : beside.row === 0 && beside.column >= 0 && beside.column < stripPages
    return within ? [pageNumber(beside)] : []
  })

/** Targets of the pages in view, and of the pages beside them, that the first look missed, each looked for where the map says. */
export const missedTargets = (raster: Raster, camera: SheetCamera, known: readonly MatchedTarget[]): readonly MatchedTarget[] => {
  const seen = new Set(known.map(({ page, ring }) => `${page} ${ring.identity}`))
  const inView = new Set(known.map(({ page }) => page))
  const pages = new Set([...inView].flatMap((page) => [page, ...besides(pageOfNumber(page))]))
  const due = [...pages].flatMap((page) =>
    targetPlaces(pageOfNumber(page)).flatMap((mm, place): Due[] => (seen.has(`${page} ${identityAt(page, place)}`) ? [] : [{ page, place, mm }])),
  )
  return due.flatMap((one) => readAt(raster, camera, one) ?? [])
}
