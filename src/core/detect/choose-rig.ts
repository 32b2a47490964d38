import { findRuler } from '#core/detect/strip/find-ruler'
import { findSpots, standsOut } from '#core/detect/strip/find-spots'
import { fullestRow, placesOf, type Rung, strokesInRow } from '#core/detect/strip/find-row'
import type { Candidate } from '#core/detect/line/candidate'
import { notRuled } from '#core/detect/line/long-lines'
import type { Hints } from './detection.ts'
import { bearing, toPlane, turnBetween } from './plane-map.ts'
import { inPicture, type Point, type Raster } from './raster.ts'
import type { Surface } from './surface.ts'
import { usablePlace } from './usable.ts'
import { type AimedLines, usualDepth, usualLine, voteCentre } from '#core/detect/dial/vote-centre'

/** A row must beat the best centre by this factor, and have at least this many marks. */
const CLEARLY = 1.5
export const LEAST_ROW = 5
/** Lines shorter than this share of the usual line's length are the strokes of letters. */
const LETTERS = 0.4
/** A row of dots or crosses: printed numbers make short ones anywhere. */
const LEAST_SPOTS = 8
const CLEARLY_SPOTS = 2
/** Where this many strokes belong together, spots are not looked for; nor a row where they aim at a place in the picture, though a ruler beside them have more ticks. */
const MOST_STROKES = 15

/** A row that spans less than this as seen from where its strokes aim, outside the picture, is of parallel ones seen aslant: a trace round a shaft spans more (rad; 25°, common practice, no source). */
const NARROW = (25 * Math.PI) / 180

/** Do the strokes of a row aim at a place so far off that they are as good as parallel? */
const areParallel = (row: readonly Rung[], aim: Point, raster: Raster, { map }: Surface): boolean => {
  if (inPicture(raster, aim)) return false
  const centre = toPlane(map, aim)
  const bearings = [...row].sort((a, b) => a.place - b.place).map(({ candidate }) => bearing(centre, toPlane(map, candidate.middle)))
  return Math.abs(turnBetween(bearings[0] as number, bearings.at(-1) as number)) < NARROW
}

/**
 * Does a row of strokes stand beside a ruler of known unit, whose many ticks say nothing of where the marks are?
 * @param short the lines that are no pieces of longer ones
 */
export const standBesideRuler = (raster: Raster, short: readonly Candidate[], surface: Surface): boolean => {
  const pen = notRuled(short, raster)
  const ruler = findRuler(raster, pen, usualDepth(pen))
  if (ruler === null || ruler.lengths.tickMm === null) return false
  const rest = pen.filter((c) => !ruler.owns(c) && ruler.isBeside(c))
  const inRow = strokesInRow(rest, surface.map, usualDepth(rest))
  return inRow >= LEAST_ROW && inRow > (voteCentre(rest, raster.width, raster.height)?.score ?? 0)
}

/**
 * Do the marks stand round a shaft or in a row? Given, printed on the sheet, or told from the photo: clearly more strokes, or dots,
 * in one row than lines aim at any one point, or a row as good as parallel.
 */
export const chooseRig = (raster: Raster, { candidates, vote }: AimedLines, surface: Surface, hints: Hints): 'pointer' | 'mirror' => {
  if (hints.rig !== undefined) return hints.rig
  if (surface.sheet !== null) return surface.sheet.rig
  if (hints.centrePx !== undefined) return 'pointer'
  const pen = notRuled(candidates, raster)
  const aimed = vote?.score ?? 0
  if (vote !== null && aimed > MOST_STROKES && inPicture(raster, vote.centrePx)) return 'pointer'
  if (standBesideRuler(raster, candidates, surface)) return 'mirror'
  const usual = usualLine(pen)
  const row = fullestRow(pen.filter((c) => c.lengthPx > LETTERS * usual.lengthPx), surface.map, usual.depth)
  const inRow = placesOf(row)
  if (inRow >= LEAST_ROW && (inRow > CLEARLY * aimed || (vote !== null && areParallel(row, vote.centrePx, raster, surface)))) return 'mirror'
  if (Math.max(inRow, aimed) > MOST_STROKES) return 'pointer'
  const found = findSpots(raster, usablePlace(surface, hints))
  return found.spots.length >= LEAST_SPOTS && standsOut(found) && found.spots.length > CLEARLY_SPOTS * Math.max(inRow, aimed) ? 'mirror' : 'pointer'
}
