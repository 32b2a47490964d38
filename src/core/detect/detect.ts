import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { type CentreEstimate, centreFromStrokes } from './centre-from-strokes.ts'
import type { Detection, DetectedMark, Hints } from './detection.ts'
import { findCandidates } from './find-candidates.ts'
import type { StrokeFit } from './fit-stroke.ts'
import { markBearing } from './mark-bearing.ts'
import { splitLongLines } from './long-lines.ts'
import { findSurface } from './surface.ts'
import { usableCandidates } from './usable.ts'
import { toPhoto, toPlane, turnedAsSeen } from './plane-map.ts'
import type { Raster } from './raster.ts'
import { rayOf } from './rays.ts'
import { refineMarks } from './refine-marks.ts'
import { selectMarks } from './select-marks.ts'
import { centreLineAt } from './stroke-model.ts'
import { voteCentre } from './vote-centre.ts'

/** THE MAP: photo → marks. */
export const detect = (raster: Raster, hints: Hints = {}): Detection | Unmeasurable => {
  const surface = findSurface(raster, hints)
  const { short, pieces } = splitLongLines(usableCandidates(findCandidates(raster), surface.outline, hints))
  const vote = hints.centrePx !== undefined ? { centrePx: hints.centrePx, score: 99 } : voteCentre(short, raster.width, raster.height)
  if (vote === null) return unmeasurable('no point that several straight pen marks aim at could be found', 'photo', 'give the shaft centre with --centre x,y, or take a sharper photo')
  const map = turnedAsSeen(surface.map, vote.centrePx)
  const centre0 = toPlane(map, vote.centrePx)
  const selection = selectMarks(short.map((c) => rayOf(c, map, centre0)))
  if (selection === null) return unmeasurable('fewer than two marks', 'photo', 'check')
  const fits = refineMarks(raster, selection.taken.map((r) => r.candidate))
  const good = fits.filter((f): f is StrokeFit => f !== null)
  const lines = good.map(({ model }) => {
    const a = toPlane(map, centreLineAt(model, -0.9))
    const b = toPlane(map, centreLineAt(model, 0.9))
    const m = toPlane(map, centreLineAt(model, 0))
    const length = Math.hypot(b[0] - a[0], b[1] - a[1])
    return { middle: m, along: [(b[0] - a[0]) / length, (b[1] - a[1]) / length] as const, length }
  })
  const estimate: CentreEstimate = centreFromStrokes(lines, centre0) ?? { centre: centre0, covariance: [1, 0, 1] }
  const marks = good.map((f): DetectedMark => {
    const { angleDeg, uDeg } = markBearing(f.model, map, estimate.centre, f.uOffset)
    const a = centreLineAt(f.model, -1)
    const b = centreLineAt(f.model, 1)
    const c = toPhoto(map, estimate.centre)
    const [p0, p1] = Math.hypot(a[0] - c[0], a[1] - c[1]) < Math.hypot(b[0] - c[0], b[1] - c[1]) ? [a, b] : [b, a]
    return { angleDeg, uDeg, positionPx: null, positionMm: null, uPosition: null, p0, p1, widthPx: 2 * f.model.halfWidth, confidence: 1, multiplicity: 1 }
  })
  marks.sort((a, b) => (a.angleDeg ?? 0) - (b.angleDeg ?? 0))
  return {
    kind: 'detection',
    rig: 'pointer',
    widthPx: raster.width,
    heightPx: raster.height,
    centrePx: toPhoto(map, estimate.centre),
    centreCovariancePx: estimate.covariance,
    centreUDeg: 0,
    rectifiedBy: surface.by,
    rectificationUDeg: 0,
    pixelsPerMm: null,
    cornersPx: surface.outline,
    marks,
    refused: selection.refused.map(({ ray, why }) => ({ p0: ray.candidate.p0, p1: ray.candidate.p1, why })),
    sheet: null,
    doubts: [],
  }
}
