import { centreEnds } from '#core/detect/centre/centre-ends'
import { combineCentres, type NamedCentre } from '#core/detect/centre/combine-centres'
import { describeDial } from '#core/detect/dial/describe-dial'
import type { Detection, Hints } from '#core/detect/detection'
import { BENT, centresSeen, radiusOf, type Scene, toldCentres } from '#core/detect/centre/dial-centres'
import { type FittedMark, fittedMark } from '#core/detect/centre/seen-from-centre'
import { confidenceOf, likenessOf } from '#core/detect/dial/judge-marks'
import { workingFactor } from '#core/detect/plane'
import { type PlaneMap, toPhoto, toPlane, turnedAsSeen } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { turnOf } from '#core/detect/dial/turn-of'
import { fitOf, weigh } from '#core/detect/strip/spot-marks'
import { refusedSpot, smallThings, type Spot } from '#core/detect/strip/find-spots'
import type { Surface } from '#core/detect/surface'
import { surenessOf } from '#core/detect/dial/sureness'
import { usablePlace } from '#core/detect/usable'
import { medianOrZero } from '#core/numeric/median'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { ringOfSpots, type SpotRing } from './ring-of-spots.ts'

/** Dots are the marks when there are this many times as many on a circle as marks were read otherwise. */
const CLEARLY = 2
/** Spots of which fewer than this share are ink that can be weighed are texture. */
const WEIGHED = 0.5
/** Strokes this many times as long as the dots are wide, aimed within this share of their circle's radius at its middle, are the marks, and the dots are pencil's grain and writing. */
const STROKES = 4
const SAME_MIDDLE = 0.15
/** Where more marks than this were read, dots are not looked for. */
const MOST_OTHERS = 60
/** The picture is searched at a reduction to about this many px: a dot is small. */
const SEARCHED = 3600
/** And at a glance where it may be reduced by more than this: there a dot is a px or two. */
const GLANCED = 2
/** Ink fainter than this share of a dot's middle is something else's. */
const FAINT = 0.25
/** How far a slanting view that was not taken out moves the centre of an arc's circle, as a share of its radius (15°; common practice, no source). */
const SLANTED = 0.03

/** The ring of more than so many dots; in a large photo they are counted at a glance before they are searched. */
const ringIn = (raster: Raster, surface: Surface, hints: Hints, least: number): SpotRing | null => {
  const { centrePx, radiusRangePx: range } = hints
  const told = centrePx ?? surface.sheet?.centrePx ?? null
  const centre = told === null ? null : toPlane(surface.map, told)
  const usable = usablePlace(surface, hints)
  const within = (value: number, limits: readonly [number, number] | null | undefined): boolean => !limits || (value >= limits[0] && value <= limits[1])
  const mayBe = ({ middle }: Spot): boolean => {
    if (!usable(middle) || told === null || centre === null) return usable(middle)
    const [x, y] = toPlane(surface.map, middle)
    return within(Math.hypot(middle[0] - told[0], middle[1] - told[1]), range) && within(Math.hypot(x - centre[0], y - centre[1]), surface.ringMm)
  }
  const glance = 2 * workingFactor(raster)
  if (least > 0 && glance > GLANCED && smallThings(raster, glance, 1).round.filter(mayBe).length <= least) return null
  const { round, other } = smallThings(raster, Math.max(1, Math.round(Math.max(raster.width, raster.height) / SEARCHED)))
  return ringOfSpots({ round: round.filter(mayBe), other: other.filter(mayBe) }, surface.map, centre)
}

/** The dots weighed, in the words of strokes along the radius. */
const marksOf = (raster: Raster, { map }: Scene, { spots, larger, off }: SpotRing, centre: Point): FittedMark[] => {
  const [cx, cy] = toPhoto(map, centre)
  const all = [...spots, ...larger, ...off]
  return spots.flatMap((spot) => {
    const [x, y] = spot.middle
    const beside = all.filter((s) => s !== spot && Math.hypot(s.middle[0] - x, s.middle[1] - y) < 4 * (spot.halfPx + s.halfPx) + 6)
    const owns = ([px, py]: Point): boolean => beside.every(({ middle: [a, b] }) => (px - x) ** 2 + (py - y) ** 2 <= (px - a) ** 2 + (py - b) ** 2)
    const seen = weigh(raster, spot, owns, FAINT)
    const far = Math.hypot(x - cx, y - cy)
    return seen === null ? [] : [fittedMark(fitOf(seen, spot, [(x - cx) / far, (y - cy) / far]), map, centre)]
  }).sort((a, b) => a.bearing - b.bearing)
}

/** The circle of the dots is about the shaft, as the pointer's tip goes. */
const circleCentre = (marks: readonly FittedMark[], centre: Point, { by, loose }: Surface): NamedCentre[] => {
  const dots = marks.map(({ bearing, inner, outer }) => ({ bearing: [Math.cos(bearing), -Math.sin(bearing)] as const, inner: (inner + outer) / 2, outer: (inner + outer) / 2 }))
  const found = centreEnds(dots, centre)
  if (found === null) return []
  const more = ((by === 'none' ? SLANTED : loose ? BENT : 0) * radiusOf(marks)) ** 2
  const [xx, xy, yy] = found.covariance
  return [{ from: 'ends', centre: found.centre, covariance: [xx + more, xy, yy + more] }]
}

const doubtsOf = ({ larger }: SpotRing): string[] => [
  'round dots on a circle were read as the marks: no strokes were found that aim at its centre',
  ...(larger.length === 0 ? [] : [`dark shapes larger than the other dots lie on their circle (${larger.length}; the first at ${(larger[0] as Spot).middle.map(Math.round).join(', ')} px) and were left out: dots that touch cannot be told apart; mark with strokes, or add these by hand`]),
]

/** Do most of at least three marks that were read as strokes agree with the dots about where the shaft is? */
const areStrokesAbout = ({ spots, centre, radius }: SpotRing, { marks, centrePx }: Detection, map: PlaneMap): boolean => {
  if (centrePx === null || marks.length < 3) return false
  const [x, y] = toPlane(map, centrePx)
  const long = STROKES * 2 * medianOrZero(spots.map((s) => s.halfPx))
  return Math.hypot(x - centre[0], y - centre[1]) < SAME_MIDDLE * radius && medianOrZero(marks.map(({ p0, p1 }) => Math.hypot(p1[0] - p0[0], p1[1] - p0[1]))) > long
}

/** All of them, the doubtful too: strokes that run into each other are doubted, and yet are the marks. */
const marksIn = (seen: Detection | Unmeasurable): number => (isUnmeasurable(seen) ? 0 : seen.marks.length)

/**
 * Dots pricked or penned at a pointer's tip: round spots on a circle about the shaft, where there are far more of them than marks read otherwise.
 * @param seen what strokes, or a row, came to
 * @returns null where there is no such circle
 */
export const readDots = (raster: Raster, seen: Detection | Unmeasurable, surface: Surface, hints: Hints): Detection | null => {
  if ((hints.rig ?? surface.sheet?.rig) === 'mirror') return null
  const others = marksIn(seen)
  const ring = others > MOST_OTHERS ? null : ringIn(raster, surface, hints, CLEARLY * others)
  if (ring === null || ring.spots.length <= CLEARLY * others || (!isUnmeasurable(seen) && areStrokesAbout(ring, seen, surface.map))) return null
  const start = toPhoto(surface.map, ring.centre)
  const map = turnedAsSeen(surface.map, start)
  const scene: Scene = { raster, candidates: [], map, surface }
  const near = toPlane(map, start)
  const marks = marksOf(raster, scene, ring, near)
  if (marks.length <= CLEARLY * others || marks.length < WEIGHED * ring.spots.length) return null
  const shown = [...toldCentres(scene, radiusOf(marks), hints.centrePx), ...circleCentre(marks, near, surface)]
  if (shown.length === 0) return null
  const aimedAt = combineCentres(shown)
  const turn = turnOf(marks, map, aimedAt.centre, surface)
  const centre = combineCentres([...shown, ...(turn === null ? centresSeen(scene, marks, aimedAt) : [{ from: 'turn', ...turn } as const])])
  const placed = marks.map((m) => fittedMark(m.fit, map, centre.centre))
  const like = likenessOf(placed)
  const { pointer } = surenessOf(raster, placed, map, centre.centre)
  const refused = [...ring.off.map((s) => refusedSpot(s, 'off the circle of the other dots')), ...ring.larger.map((s) => refusedSpot(s, 'larger than the other dots: several may have run together'))]
  const doubted = { ...surface, doubts: [...doubtsOf(ring), ...surface.doubts] }
  return describeDial(raster, { map, centre, marks: placed, refused, together: 0, turn, pointer, sureness: placed.map((m) => confidenceOf(m, like)), surface: doubted, dots: true }, hints)
}
