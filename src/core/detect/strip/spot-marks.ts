import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { jacobianAt, type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { fitLine } from '#core/numeric/fit-line'
import { medianOrZero, robustSpread } from '#core/numeric/median'
import { refusedSpot, type Spot, type SpotRow } from './find-spots.ts'
import type { RowOfMarks } from './row-of-marks.ts'
import type { StripMark } from './strip-marks.ts'

/** What a spot’s own unevenness and the pixels leave at least, px (common practice, no source). */
const LEAST_U_PX = 0.05

/** A spot's ink: its middle, weighed by darkness over the paper about it, and what white noise leaves in that. */
interface Weighed {
  readonly middle: Point
  readonly uPx: number
  readonly dark: number
  readonly paper: number
}

/**
 * Weighs the ink in a square about a spot.
 * @param owns whether ink at a place may be this spot's
 * @param least share of the darkest ink that counts: what is fainter, as a rule of squared paper, is left out
 */
export const weigh = ({ width, height, grey }: Raster, { middle, halfPx }: Spot, owns: (px: Point) => boolean = () => true, least = 0): Weighed | null => {
  const reach = Math.ceil(halfPx + 3)
  const [cx, cy] = [Math.round(middle[0]), Math.round(middle[1])]
  if (cx - reach < 0 || cy - reach < 0 || cx + reach >= width || cy + reach >= height) return null
  const at = (dx: number, dy: number): number => grey[(cy + dy) * width + cx + dx] as number
  const rim: number[] = []
  for (let k = -reach; k <= reach; k++) rim.push(at(k, -reach), at(k, reach), at(-reach, k), at(reach, k))
  const paper = medianOrZero(rim)
  const noise = robustSpread(rim, paper)
  const faintest = Math.max(2.5 * noise + 2, least * (paper - at(0, 0)))
  let [ink, x, y, spread, most] = [0, 0, 0, 0, 0]
  for (let dy = -reach; dy <= reach; dy++) {
    for (let dx = -reach; dx <= reach; dx++) {
      const dark = paper - at(dx, dy)
      if (dark < faintest || !owns([cx + dx, cy + dy])) continue
      ink += dark
      x += dark * dx
      y += dark * dy
      spread += dx * dx
      most = Math.max(most, dark)
    }
  }
  return ink > 0 ? { middle: [cx + x / ink, cy + y / ink], uPx: Math.hypot(LEAST_U_PX, (noise * Math.sqrt(spread)) / ink), dark: most, paper } : null
}

/** A spot in the words of a stroke: as long as it is high, across the row or along the radius. */
export const fitOf = ({ middle, uPx, dark, paper }: Weighed, { halfPx, area }: Spot, across: Point): StrokeFit => ({
  model: { middle, along: across, halfLength: halfPx, bow: [0, 0, 0], halfWidth: Math.sqrt(area / Math.PI), sigma: 1, amplitudes: [dark, dark] },
  noise: 0,
  uOffset: uPx,
  outliers: 0,
  clumping: 1,
  paper,
})

/** A hand and a pencil's grain put the ink of a dot or cross so far beside its place (rms 0.07 to 0.2 px in nine simulated rows). */
const OFF_PX = 0.09

/** Direction of the row in the plane, to the right as seen in the photo or downwards where it is nearer upright. */
const rowOf = (points: readonly Point[], map: PlaneMap): Point | null => {
  const seen = fitLine(points)
  if (seen === null) return null
  const [dx, dy] = seen.direction
  const sign = (Math.abs(dx) >= Math.abs(dy) ? dx : dy) > 0 ? 1 : -1
  const [a, b] = [toPlane(map, seen.point), toPlane(map, [seen.point[0] + sign * dx, seen.point[1] + sign * dy])]
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  return [(b[0] - a[0]) / length, (b[1] - a[1]) / length]
}

const runTogether = (larger: readonly Spot[]): string =>
  `${larger.length === 1 ? 'one dark shape' : `${larger.length} dark shapes`} in the row of spots ${larger.length === 1 ? 'is' : 'are'} larger than the rest (the first at ${(larger[0] as Spot).middle.map(Math.round).join(', ')} px) and ${larger.length === 1 ? 'was' : 'were'} left out: spots that touch cannot be told apart; mark with strokes across the line, or type these places in`

/** Dots and crosses as marks of a strip, in order along the row; null for fewer than two. */
export const spotMarks = (raster: Raster, { spots, larger }: SpotRow, map: PlaneMap): RowOfMarks | null => {
  const weighed = spots.flatMap((spot) => {
    const seen = weigh(raster, spot)
    return seen === null ? [] : [{ spot, seen: { ...seen, uPx: Math.hypot(seen.uPx, OFF_PX) } }]
  })
  const line = fitLine(weighed.map((w) => w.seen.middle))
  const along = rowOf(weighed.map((w) => w.seen.middle), map)
  if (weighed.length < 2 || line === null || along === null) return null
  const across: Point = [-line.direction[1], line.direction[0]]
  const marks = weighed.map(({ spot, seen }): StripMark => {
    const middle = toPlane(map, seen.middle)
    const [a, b, c, d] = jacobianAt(map, seen.middle)
    const unit = Math.sqrt(Math.abs(a * d - b * c))
    return { kind: 'spot', fit: fitOf(seen, spot, across), middle, place: middle[0] * along[0] + middle[1] * along[1], u: seen.uPx * unit, length: 2 * spot.halfPx * unit, lean: 0 }
  })
  const refused = larger.map((spot) => refusedSpot(spot, 'larger than the other spots: several may have run together'))
  return { marks: marks.sort((p, q) => p.place - q.place), along, refused, doubts: larger.length === 0 ? [] : [runTogether(larger)] }
}
