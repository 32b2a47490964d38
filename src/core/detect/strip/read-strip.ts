import { bandHalfMm } from '#core/detect/sheet/zone'
import { edgeSurface } from './edge-surface.ts'
import { faintSpots } from './faint-spots.ts'
import { findSpots, standsOut } from './find-spots.ts'
import { isPrinted, type Ruler } from './ruler.ts'
import { type Parted, partRows, tickedTrace } from './part-rows.ts'
import { rulerBeside } from './wave-ruler.ts'
import { type RowOfMarks, rowOfStrokes } from './row-of-marks.ts'
import { strokesInRow } from './find-row.ts'
import { type Ground, rulerSurface, type Scale } from './ruler-surface.ts'
import { isOnRule } from './squares-net.ts'
import { spotMarks } from './spot-marks.ts'
import { replaced, type StripMark } from './strip-marks.ts'
import { isWritten } from './written.ts'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { pickedByChance } from '#core/detect/among-others'
import type { Candidate } from '#core/detect/line/candidate'
import type { Hints, Refusal } from '#core/detect/detection'
import { notRuled, splitLongLines } from '#core/detect/line/long-lines'
import { photoPlane, type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Surface } from '#core/detect/surface'
import { medianOrZero } from '#core/numeric/median'
import { usablePlace } from '#core/detect/usable'
import { usualDepth } from '#core/detect/dial/vote-centre'
import { centreLineAt, endsOf } from '#core/detect/stroke/stroke-model'

/** Marks in a row on a strip. */
export interface Strip {
  /** The plane they were placed in: the ruler’s own where one was used. */
  readonly surface: Surface
  readonly marks: readonly StripMark[]
  readonly along: Point
  /** Lines that could have been marks: all but a ruler's. */
  readonly lines: readonly Candidate[]
  readonly refused: readonly Refusal[]
  /** By a ruler beside the marks; null when there is none of a known unit. */
  readonly scale: Scale | null
  /** Is the row as even as a ruler's ticks, and of their lengths? */
  readonly likeRuler: boolean
  readonly doubts: readonly string[]
}

/** On a printed strip the marks' band is free of print; 1 mm for the hand. */
const inBand = ({ sheet, map }: Surface) => (px: Point): boolean => sheet === null || sheet.rig !== 'mirror' || Math.abs(toPlane(map, px)[1]) < bandHalfMm - 1

/** Ticks that miss the flat ruler fitted to them by more than this share of a step tell no perspective. */
const MOST_MISFIT = 0.1

const isBent = ({ rmsPx, ticks }: Ruler): boolean => rmsPx > MOST_MISFIT * medianOrZero(ticks.map((t) => t.stepPx))

const bent = ({ ticks }: Ruler): string => `a row of ${ticks.length} even ticks was found beside the marks, but they do not fit a flat ruler and were not measured by: lay it flat, and let its ticks be seen whole`

/** A printed sheet has its own scale; elsewhere a ruler may lie beside the marks. */
const part = (raster: Raster, candidates: readonly Candidate[], surface: Surface): Parted =>
  surface.sheet === null ? partRows(raster, candidates) : { rest: candidates.filter((c) => inBand(surface)(c.middle)), rulers: [], nets: [], suspect: null, doubts: [] }

const groundOf = (raster: Raster, surface: Surface, { rulers: [ruler] }: Parted, hints: Hints): Ground => (ruler === undefined ? { surface, scale: null, doubts: [] } : isBent(ruler) ? { surface, scale: null, doubts: [bent(ruler)] } : rulerSurface(raster, surface, ruler, hints))

/** Spots are the marks when there are this many times as many in a row as strokes: a hand that writes numbers at its marks draws round things too. */
const CLEARLY_SPOTS = 2

/** A row of dots or crosses beside the only row of strokes makes a ruler of that one. */
const LEAST_SPOTS = 6

const withSpotsBeside = (raster: Raster, parted: Parted, candidates: readonly Candidate[], place: (px: Point) => boolean): Parted => {
  const { rulers, nets, suspect } = parted
  if (rulers.length > 0 || suspect === null || !isPrinted(suspect)) return parted
  const beside = findSpots(raster, (px) => place(px) && !suspect.owns({ p0: px, p1: px }))
  return beside.spots.length < LEAST_SPOTS || !standsOut(beside) ? parted : { rest: candidates.filter((c) => !suspect.owns(c)), rulers: [suspect], nets, suspect: null, doubts: [] }
}

/** The row of marks: strokes across it, or dots or crosses on it. */
const rowOfMarks = (raster: Raster, { rest, rulers: [ruler], nets }: Parted, map: PlaneMap, place: (px: Point) => boolean): RowOfMarks | null => {
  const usable = notRuled(splitLongLines(rest).short, raster)
  const free = (px: Point): boolean => place(px) && !(ruler?.owns({ p0: px, p1: px }) ?? false)
  const found = findSpots(raster, free)
  if (standsOut(found) && found.spots.length > CLEARLY_SPOTS * strokesInRow(usable, map, usualDepth(usable))) {
    const { spots, larger } = found
    const seen = spotMarks(raster, { ...found, spots: [...spots, ...faintSpots(raster, spots, [...spots, ...larger], free)] }, map)
    if (seen !== null) return seen
  }
  return rowOfStrokes(raster, usable, map, (px) => free(px) && !nets.some((net) => isOnRule(raster, net, px)))
}

/** A row and what told it apart from a ruler. */
interface Read {
  readonly parted: Parted
  readonly ground: Ground
  readonly row: RowOfMarks
}

/** A ruler's own plane has it along x. */
const ALONG_RULER: Point = [1, 0]

const linesOf = ({ marks }: RowOfMarks): Pick<Candidate, 'p0' | 'p1'>[] => marks.map(({ fit }) => endsOf(fit.model))

const most = (lines: readonly Pick<Candidate, 'p0' | 'p1'>[], are: (line: Pick<Candidate, 'p0' | 'p1'>) => boolean): boolean => 2 * lines.filter(are).length > lines.length

/** Is a row text on the rulers it seems to stand beside, beyond their ticks? */
const isText = (raster: Raster, row: RowOfMarks, rulers: readonly Ruler[]): boolean => rulers.every((r) => most(linesOf(row), r.isBeyond)) && isWritten(raster, row.marks)

/** Was a row picked from many lines of its kind? */
const isChance = ({ parted: { rest }, row: { marks } }: Read): boolean => pickedByChance(rest, marks.map(({ fit: { model } }) => ({ ...endsOf(model), widthPx: 2 * model.halfWidth })))

/** The marks as the photo itself has them, in order along their row. */
const inPhoto = ({ marks }: RowOfMarks): readonly StripMark[] => {
  const [a, b] = [marks[0], marks[marks.length - 1]].map((m) => centreLineAt((m as StripMark).fit.model, 0)) as [Point, Point]
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  return replaced(marks, photoPlane, [(b[0] - a[0]) / length, (b[1] - a[1]) / length])
}

/** A row of marks measured by the ruler beside it, and where no paper was seen as a whole by the strip's edges too. */
const measuredBy = (raster: Raster, read: Read, paper: Surface, hints: Hints): Read => {
  const edges = paper.by === 'none' ? edgeSurface(raster, inPhoto(read.row), paper) : paper
  const ground = groundOf(raster, edges, read.parted, hints)
  const { map } = ground.surface
  return { ...read, ground, row: map === read.ground.surface.map ? read.row : { ...read.row, marks: replaced(read.row.marks, map, ALONG_RULER), along: ALONG_RULER } }
}

/** What is read of a part; a row that is written on a fine ruler, or is its ticks, gives way to one beside it. */
const readParted = (raster: Raster, parted: Parted, paper: Surface, hints: Hints, place: (px: Point) => boolean): Read | null => {
  const ground = groundOf(raster, paper, parted, hints)
  const row = rowOfMarks(raster, parted, ground.surface.map, place)
  if (row === null) return null
  const read = { parted, ground, row }
  const fine = paper.sheet === null && parted.rulers.length === 0 ? rulerBeside(raster, row.marks) : null
  if (fine === null) return measuredBy(raster, read, paper, hints)
  const lines = linesOf(row)
  const beside = lines.some(fine.owns) ? readParted(raster, { ...parted, rest: parted.rest.filter((c) => !fine.owns(c)), rulers: [fine] }, paper, hints, place) : measuredBy(raster, { ...read, parted: { ...parted, rulers: [fine] } }, paper, hints)
  if (beside !== null && (!most(lines, fine.owns) || !(isText(raster, beside.row, [fine]) || isChance(beside)))) return beside
  return measuredBy(raster, { ...read, parted: parted.suspect === null ? tickedTrace(parted.rest, fine) : parted }, paper, hints)
}

/** Where the row is text on the rulers it seemed to stand beside, beyond their ticks, nothing but a ruler is in the picture: its ticks are what is read, if they are a row themselves. */
const ratherTicks = (raster: Raster, seen: Read | null, again: (ruler: Ruler) => Read | null): Read | null => {
  const rulers = seen?.parted.rulers ?? []
  const [ruler] = rulers
  if (seen === null || ruler === undefined || !isText(raster, seen.row, rulers)) return seen
  const ticks = again(ruler)
  return ticks !== null && most(linesOf(ticks.row), ruler.owns) ? ticks : seen
}

/**
 * Marks along a line: a ruler beside them told apart and used, the strokes that stand in a row fitted, or dots and crosses
 * weighed; places along the row.
 * @param candidates every thin straight line on the paper, long ones among them
 */
export const readStrip = (raster: Raster, candidates: readonly Candidate[], paper: Surface, hints: Hints): Strip | Unmeasurable => {
  const usable = usablePlace(paper, hints)
  const place = (px: Point): boolean => usable(px) && inBand(paper)(px)
  const first = readParted(raster, withSpotsBeside(raster, part(raster, candidates, paper), candidates, place), paper, hints, place)
  const read = ratherTicks(raster, first, (ruler) => readParted(raster, tickedTrace(candidates, ruler), paper, hints, place))
  if (read === null) return unmeasurable('no row of parallel pen marks, and no row of dots or crosses, could be found', 'photo', 'take a sharper photo square to the strip, leave everything else out with --ignore, or say --rig pointer if the marks lie round a shaft')
  const { parted, ground: { surface, scale, doubts }, row } = read
  const ticks = (parted.rulers[0]?.ticks ?? []).map(({ foot, tip }): Refusal => ({ p0: foot, p1: tip, why: 'a tick of the ruler' }))
  return {
    surface,
    marks: row.marks,
    along: row.along,
    lines: parted.rest,
    refused: [...ticks, ...row.refused],
    scale,
    likeRuler: parted.suspect !== null && parted.suspect.lengths.tickMm !== null,
    doubts: [...parted.doubts, ...doubts, ...row.doubts],
  }
}
