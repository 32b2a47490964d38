import { setupOf } from '#core/detect/sheet/read-payload'
import { fitLine } from '#core/numeric/fit-line'
import type { DetectedMark, Detection, Hints } from './detection.ts'
import { explainCount, oddGaps } from './explain-count.ts'
import { jacobianAt, toPhoto, toPlane } from './plane-map.ts'
import type { Point, Raster } from './raster.ts'
import type { Strip, StripMark } from './read-strip.ts'
import { centreLineAt } from './stroke-model.ts'
import type { Surface } from './surface.ts'

/** How closely a person points at the two ends of a known distance, px. */
const POINTED_PX = 1.5

/** Millimetres per plane unit and its relative standard uncertainty; null when nothing tells. */
const scaleOf = (strip: Strip, surface: Surface, { scalePx }: Hints): readonly [scale: number, relative: number] | null => {
  if (scalePx !== undefined) {
    const [a, b] = [toPlane(strip.map, scalePx.from), toPlane(strip.map, scalePx.to)]
    const px = Math.hypot(scalePx.to[0] - scalePx.from[0], scalePx.to[1] - scalePx.from[1])
    return [scalePx.mm / Math.hypot(b[0] - a[0], b[1] - a[1]), (POINTED_PX * Math.SQRT2) / px]
  }
  if (surface.sheet === null && strip.ticks !== null) return [1 / strip.ticks.perMm, strip.ticks.relative]
  if (!surface.metric) return null
  const bar = surface.sheet?.payload?.barMm ?? 100
  return [bar / 100, surface.sheet === null ? 0.002 : 0.0005]
}

/** Direction of the row: the line through the ink's middles; on a printed sheet, the printed line. */
const rowDirection = (strip: Strip, surface: Surface): Point => {
  if (surface.sheet?.rig === 'mirror') return [1, 0]
  const line = fitLine(strip.marks.map((m) => m.middle))
  if (line === null) return strip.along
  const sign = line.direction[0] * strip.along[0] + line.direction[1] * strip.along[1] >= 0 ? 1 : -1
  return [sign * line.direction[0], sign * line.direction[1]]
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0

const confidenceOf = (mark: StripMark, usual: { readonly length: number; readonly width: number; readonly lean: number }): number => {
  const odd = Math.max(0, Math.abs(mark.lean - usual.lean) / 0.05 - 1) + Math.max(0, (0.5 * usual.length - mark.length) / (0.15 * usual.length)) + Math.max(0, mark.fit.model.halfWidth / usual.width - 1.6) + Math.max(0, mark.fit.outliers - 0.3) * 4
  return 1 / (1 + 0.03 * Math.exp(1.6 * odd))
}

/** Puts a strip into the words of a detection: places along the row from the first mark or the sheet's zero, in px and where the scale is known in mm. */
export const describeStrip = (raster: Raster, strip: Strip, surface: Surface, hints: Hints): Detection => {
  const along = rowDirection(strip, surface)
  const scale = scaleOf(strip, surface, hints)
  const clump = Math.sqrt(strip.marks.reduce((sum, m) => sum + m.fit.clumping, 0) / strip.marks.length)
  const usual = { length: median(strip.marks.map((m) => m.length)), width: median(strip.marks.map((m) => m.fit.model.halfWidth)), lean: median(strip.marks.map((m) => m.lean)) }
  const places = strip.marks.map((m) => m.middle[0] * along[0] + m.middle[1] * along[1])
  const zero = surface.sheet?.rig === 'mirror' ? 0 : Math.min(...places)
  const middle = toPhoto(strip.map, (strip.marks[strip.marks.length >> 1] as StripMark).middle)
  const [a, b, c, d] = jacobianAt(strip.map, middle)
  const pxPerUnit = 1 / Math.sqrt(Math.abs(a * d - b * c))
  const marks = strip.marks.map((mark, i): DetectedMark => {
    const place = (places[i] as number) - zero
    const ends = [centreLineAt(mark.fit.model, -1), centreLineAt(mark.fit.model, 1)] as const
    const u = mark.u * clump
    return {
      angleDeg: null,
      uDeg: null,
      positionPx: place * pxPerUnit,
      positionMm: scale === null ? null : place * scale[0],
      uPosition: scale === null ? u * pxPerUnit : u * scale[0],
      p0: ends[0],
      p1: ends[1],
      widthPx: 2 * mark.fit.model.halfWidth,
      confidence: confidenceOf(mark, usual),
      multiplicity: 1,
    }
  })
  marks.sort((p, q) => (p.positionPx ?? 0) - (q.positionPx ?? 0))
  const noScale = scale === null ? ['the strip’s scale in mm is not known: give two points a known distance apart, or use the printed sheet'] : []
  const tilt = surface.by === 'none' ? ['perspective was not removed: photograph the strip squarely, or use the printed sheet'] : []
  return {
    kind: 'detection',
    rig: 'mirror',
    widthPx: raster.width,
    heightPx: raster.height,
    centrePx: null,
    centreCovariancePx: null,
    centreUDeg: null,
    rectifiedBy: surface.by,
    rectificationUDeg: scale === null ? null : scale[1],
    pixelsPerMm: scale === null ? null : pxPerUnit / scale[0],
    cornersPx: surface.outline,
    marks,
    refused: strip.refused,
    sheet: surface.sheet?.payload ? setupOf(surface.sheet.payload) : null,
    doubts: [...(strip.ticks === null ? surface.doubts : []), ...noScale, ...tilt, ...explainCount(marks, hints.expectedMarks), ...oddGaps(marks)],
  }
}
