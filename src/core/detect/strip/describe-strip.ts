import { setupOf } from '#core/detect/sheet/read-payload'
import { oddWidth, openScale, placeDoubt, stripScale } from './strip-scale.ts'
import { faintOf, type StripMark } from './strip-marks.ts'
import { fitLine } from '#core/numeric/fit-line'
import { medianOrZero } from '#core/numeric/median'
import { mean, rms } from '#core/numeric/moments'
import type { DetectedMark, Detection, Hints } from '#core/detect/detection'
import { DOUBTFUL, doubtSurplus, explainCount, oddGaps } from '#core/detect/explain-count'
import { pxPerUnitAt, toPhoto, toPlane } from '#core/detect/plane-map'
import { frameOf } from '#core/detect/surface'
import { halfApart, pulledAside, usualBeside } from '#core/detect/stroke/pulled-aside'
import type { Point, Raster } from '#core/detect/raster'
import type { Strip } from './read-strip.ts'
import { centreLineAt, seenWidth } from '#core/detect/stroke/stroke-model'
import { tooEven } from './even-ticks.ts'
import { leftOutDoubts } from './left-out.ts'
import { restsHeld } from './rests-held.ts'

/** The row as a line in the plane: unit vector along it, and how far a place lies aside of the line through the ink's middles. */
interface RowLine {
  readonly along: Point
  readonly aside: (p: Point) => number
}

/** Positions run along the line through the ink's middles; on a printed sheet, along the printed line. */
const rowLine = ({ surface, marks, along }: Strip): RowLine => {
  const line = fitLine(marks.map((m) => m.middle))
  if (line === null) return { along, aside: () => 0 }
  const sign = line.direction[0] * along[0] + line.direction[1] * along[1] >= 0 ? 1 : -1
  const [dx, dy] = [sign * line.direction[0], sign * line.direction[1]]
  const aside = ([x, y]: Point): number => (y - line.point[1]) * dx - (x - line.point[0]) * dy
  return { along: surface.sheet?.rig === 'mirror' ? [1, 0] : [dx, dy], aside }
}

/** Steeper than this, run over rise, no hand draws across a row. */
const MOST_SLANT = 1

/** How far a stroke runs along the row for each unit across it; NaN for a spot and for what no hand draws. */
const slantOf = ({ surface: { map } }: Strip, { along: [dx, dy], aside }: RowLine, { kind, fit: { model } }: StripMark): number => {
  const [p, q] = [toPlane(map, centreLineAt(model, -1)), toPlane(map, centreLineAt(model, 1))]
  const slant = ((q[0] - p[0]) * dx + (q[1] - p[1]) * dy) / (aside(q) - aside(p))
  return kind === 'stroke' && Math.abs(slant) < MOST_SLANT ? slant : Number.NaN
}

/**
 * A hand that slants its strokes still draws them through the spot, so a slanted one begun too high has its ink's middle too far along.
 * One that leans more than most may have been drawn through the spot, or about it: its place lies anywhere between the two
 * (rectangular, JCGM 100, 4.3.7).
 * @param off its slant less that of most
 */
const slantDoubt = (off: number, asideOfMiddle: number): number => (Number.isNaN(off) ? 0 : Math.abs(off * asideOfMiddle) / Math.sqrt(3))

const confidenceOf = (mark: StripMark, usual: { readonly length: number; readonly width: number; readonly lean: number }): number => {
  const odd = Math.max(0, Math.abs(mark.lean - usual.lean) / 0.05 - 1) + Math.max(0, (0.5 * usual.length - mark.length) / (0.15 * usual.length)) + Math.max(0, mark.fit.model.halfWidth / usual.width - 1.6) + Math.max(0, mark.fit.outliers - 0.3) * 4
  return 1 / (1 + 0.03 * Math.exp(1.6 * odd))
}

/** Which way positions grow, as the upright photo is seen. */
const wayOf = ([ax, ay]: Point, [bx, by]: Point): string => (Math.abs(bx - ax) >= Math.abs(by - ay) ? (bx > ax ? 'to the right' : 'to the left') : by > ay ? 'downwards' : 'upwards')

/** Where the positions' zero is and which way they grow. */
const zeroWords = (strip: Strip, first: Point, last: Point): string => {
  const way = wayOf(first, last)
  return strip.surface.sheet?.rig === 'mirror' ? `positions from the zero of the printed line, growing ${way} in the photo` : `positions from the first mark, growing ${way} in the photo`
}

const shapeDoubts = ({ surface, doubts }: Strip, scaled: boolean): string[] => [
  ...surface.doubts,
  ...doubts,
  ...(scaled ? [] : [openScale(surface)]),
  ...(surface.by === 'none' ? ['perspective was not removed: lay a ruler beside the marks, keep both long edges of the strip in view, or use the printed sheet'] : []),
]

/** Puts a strip into the words of a detection: places along the row from the first mark or the sheet's zero, in px and where the scale is known in mm. */
export const describeStrip = (raster: Raster, strip: Strip, hints: Hints): Detection => {
  const { surface } = strip
  const row = rowLine(strip)
  const slants = strip.marks.map((m) => slantOf(strip, row, m))
  const slant = medianOrZero(slants.filter(Number.isFinite))
  const scale = stripScale(strip, hints)
  const aside = pulledAside(strip.marks.map((m) => m.fit))
  const faint = faintOf(strip.marks)
  const held = restsHeld(strip.marks, surface.map, strip.along)
  const widths = strip.marks.map((m) => seenWidth(m.fit.model))
  const usual = { length: medianOrZero(strip.marks.map((m) => m.length)), width: medianOrZero(strip.marks.map((m) => m.fit.model.halfWidth)), lean: medianOrZero(strip.marks.map((m) => m.lean)) }
  const places = strip.marks.map((m) => m.middle[0] * row.along[0] + m.middle[1] * row.along[1] - slant * row.aside(m.middle))
  const zero = surface.sheet?.rig === 'mirror' ? 0 : Math.min(...places)
  const middle = toPhoto(surface.map, (strip.marks[strip.marks.length >> 1] as StripMark).middle)
  const pxPerUnit = pxPerUnitAt(surface.map, middle)
  const pixelsPerMm = scale === null ? null : pxPerUnit / scale.mmPerUnit
  const open = placeDoubt(strip, raster, scale)
  const [centre, unit, stretch] = [mean(places), scale === null ? pxPerUnit : scale.mmPerUnit, scale?.relative ?? 0]
  const bend = open * rms(places.map((place) => place - centre))
  const seen = strip.marks.map((mark, i): DetectedMark => {
    const place = (places[i] as number) - zero
    const ends = [centreLineAt(mark.fit.model, -1), centreLineAt(mark.fit.model, 1)] as const
    const merged = (held[i] as number) > 1 ? halfApart(widths[i] as number, usualBeside(widths, i)) : 0
    const u = Math.hypot((mark.u / Math.max(1e-9, mark.fit.uOffset)) * Math.hypot(aside[i] as number, merged), slantDoubt((slants[i] as number) - slant, row.aside(mark.middle)))
    return {
      angleDeg: null,
      uDeg: null,
      uOwnDeg: null,
      positionPx: place * pxPerUnit,
      positionMm: scale === null ? null : place * scale.mmPerUnit,
      uPosition: Math.hypot(u, stretch * ((places[i] as number) - centre), bend) * unit,
      uOwnPosition: u * unit,
      p0: ends[0],
      p1: ends[1],
      widthPx: 2 * mark.fit.model.halfWidth,
      confidence: faint[i] === true ? Math.min(DOUBTFUL, confidenceOf(mark, usual)) : confidenceOf(mark, usual),
      multiplicity: held[i] as number,
    }
  })
  const marks = doubtSurplus(seen.sort((p, q) => (p.positionPx ?? 0) - (q.positionPx ?? 0)), hints.expectedMarks)
  const [first, last] = [marks[0], marks[marks.length - 1]] as [DetectedMark, DetectedMark]
  return {
    kind: 'detection',
    rig: 'mirror',
    widthPx: raster.width,
    heightPx: raster.height,
    centrePx: null,
    centreCovariancePx: null,
    centreUDeg: null,
    rectifiedBy: surface.by,
    rectificationUDeg: Math.hypot(stretch, open),
    pixelsPerMm,
    ...frameOf(surface),
    ...(surface.by === 'paper' && surface.paperMm !== undefined && hints.paperMm === undefined ? { paperTakenMm: surface.paperMm } : {}),
    marks,
    refused: strip.refused,
    sheet: surface.sheet?.payload ? setupOf(surface.sheet.payload) : null,
    strip: { zero: zeroWords(strip, first.p0, last.p0), scale: scale === null ? null : `${scale.words}, known to ${(100 * scale.relative).toPrecision(1)} %` },
    doubts: [...(surface.sheet === null && strip.doubts.length === 0 ? tooEven(marks) : []), ...shapeDoubts(strip, scale !== null), ...oddWidth(scale, (2 * usual.width) / (pixelsPerMm ?? Number.NaN), hints.tickMm), ...explainCount(marks, hints.expectedMarks), ...leftOutDoubts(raster, strip, hints), ...oddGaps(marks)],
  }
}
