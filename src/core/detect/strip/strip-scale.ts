import { mean, rms } from '#core/numeric/moments'
import type { Hints } from '#core/detect/detection'
import { focalPx, MOST_TILT } from '#core/detect/lens'
import { type PlaneMap, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Picture, Point } from '#core/detect/raster'
import type { Strip } from './read-strip.ts'
import type { Surface } from '#core/detect/surface'
import { trueScale } from '#core/detect/sheet/read-payload'
import type { Scale } from './ruler-surface.ts'

/** How closely a person points at the two ends of a known distance, px. */
const POINTED_PX = 1.5

const byTwoPoints = (map: PlaneMap, { from, to, mm }: NonNullable<Hints['scalePx']>): Scale => {
  const [a, b] = [toPlane(map, from), toPlane(map, to)]
  const px = Math.hypot(to[0] - from[0], to[1] - from[1])
  return { mmPerUnit: mm / Math.hypot(b[0] - a[0], b[1] - a[1]), relative: (POINTED_PX * Math.SQRT2) / px, from: 'points', words: `two points given ${mm} mm apart` }
}

/** Is the map the paper's own, in millimetres of the sheet whose shape it has? Smaller sheets have the same shape, so it is a scale only where its size was said. */
const isPaper = ({ sheet, by, metric }: Surface): boolean => sheet === null && metric && (by === 'paper' || by === 'corners')

/** Millimetres per plane unit, and what told it; null when nothing does. */
export const stripScale = ({ surface, scale }: Strip, { scalePx, paperMm }: Hints): Scale | null => {
  if (scalePx !== undefined) return byTwoPoints(surface.map, scalePx)
  if (surface.sheet !== null) return { mmPerUnit: trueScale(surface.sheet), relative: 0.0005, from: 'sheet', words: 'the printed sheet' }
  if (scale !== null) return scale
  return isPaper(surface) && paperMm !== undefined ? { mmPerUnit: 1, relative: 0.002, from: 'paper', words: 'the size of the paper' } : null
}

/** Why there are no millimetres, and what gives them. */
export const openScale = (surface: Surface): string =>
  isPaper(surface)
    ? 'the strip’s scale in mm is not known: the paper has the shape of A4 or US Letter, but smaller sheets can have it, too; say its size with --paper, or give two points a known distance apart with --scale'
    : 'the strip’s scale in mm is not known: give two points a known distance apart with --scale, lay a millimetre ruler beside the marks, or use the printed sheet'

/** Pens draw lines from a sharp pencil's to a broad felt tip's width, mm, and dots no larger (common practice, no source). */
const DRAWN_MM = [0.12, 4] as const

/**
 * A tape's centimetres look like a ruler's millimetres: where a tick's own length said what it is, but the marks come out as no pen draws them, that is said.
 * @param widthMm of a usual mark
 */
export const oddWidth = (scale: Scale | null, widthMm: number, tickMm: number | undefined): string[] => {
  const isOpen = scale?.from === 'ruler' && tickMm === undefined
  return !isOpen || (widthMm > DRAWN_MM[0] && widthMm < DRAWN_MM[1]) ? [] : [`by the ruler the marks are ${widthMm.toPrecision(2)} mm wide, as no pen draws them: what one tick is may have been taken ten times wrong; say it in mm with --tick`]
}

const spreadOf = (values: readonly number[]): number => {
  const middle = mean(values)
  return rms(values.map((v) => v - middle))
}

/** Places along the line from the first point to the last. */
const placesAlong = (points: readonly Point[]): number[] => {
  const [a, b] = [points[0] as Point, points[points.length - 1] as Point]
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1
  return points.map(([x, y]) => ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / length)
}

/** Places brought to the same spread: what then differs is shape, which a scale cannot mend. */
const alike = (places: readonly number[], spread: number): number[] => {
  const size = spreadOf(places)
  return places.map((p) => (p * spread) / (size || 1))
}

/**
 * Change of the places when the map is exchanged for another, as a share of their own spread; with `shapeOnly`, a change of
 * scale does not count, because the scale was taken elsewhere.
 */
const changeBetween = (px: readonly Point[], map: PlaneMap, other: PlaneMap, shapeOnly: boolean): number => {
  const here = placesAlong(px.map((p) => toPlane(map, p)))
  const there = placesAlong(px.map((p) => toPlane(other, p)))
  const spread = spreadOf(here)
  const seen = shapeOnly ? alike(there, spread) : there
  return spreadOf(seen.map((v, i) => v - (here[i] as number))) / (spread || 1)
}

/** Without perspective removed, x' = x/(1 + x·tan t/f): the bend over a span of ±a is 0.298·a²·tan t/f rms, beside a spread of a/√3; tilt rectangular. */
const bendOfOpenTilt = (px: readonly Point[], picture: Picture): number => {
  const [a, b] = [px[0] as Point, px[px.length - 1] as Point]
  const half = Math.hypot(b[0] - a[0], b[1] - a[1]) / 2
  return (0.298 * half * Math.tan(MOST_TILT)) / focalPx(picture)
}

/**
 * What is open about the perspective, as a share of the marks' spread along the strip; a change of scale counts only where the map told it.
 */
export const placeDoubt = ({ surface, marks }: Strip, picture: Picture, scale: Scale | null): number => {
  const px = marks.map((m) => toPhoto(surface.map, m.middle))
  if (surface.by === 'none') return bendOfOpenTilt(px, picture)
  return Math.sqrt(surface.alternatives.reduce((sum, other) => sum + changeBetween(px, surface.map, other, scale?.from !== 'paper') ** 2, 0))
}
