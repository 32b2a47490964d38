import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Candidate } from '#core/detect/line/candidate'
import { circleSurface, LEAST_DOUBT } from '#core/detect/circle/circle-surface'
import { chooseRules, chooseSquares } from '#core/detect/pattern/choose-pattern'
import { combineCentres, type CombinedCentre, type NamedCentre } from '#core/detect/centre/combine-centres'
import { judge, type Judged, refusalOf, type Stage } from './sort-strokes.ts'
import { faintMarks } from './faint-marks.ts'
import type { Hints, Refusal } from '#core/detect/detection'
import { centresSeen, radiusOf, roughCentres } from '#core/detect/centre/dial-centres'
import type { EvenTurn } from './fit-turn.ts'
import { type FittedMark, fittedMark, rayOf } from '#core/detect/centre/seen-from-centre'
import type { MarksSeen } from '#core/detect/bearing-doubts'
import { type PlaneMap, pxPerUnitAt, toPhoto, toPlane, turnedAsSeen } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { refineMarks } from '#core/detect/stroke/refine-marks'
import { selectMarks } from './select-marks.ts'
import { endsOf } from '#core/detect/stroke/stroke-model'
import { squareOn } from './square-on.ts'
import { SURE, type Sureness, surenessOf } from './sureness.ts'
import { isOpen, type Surface } from '#core/detect/surface'
import { turnOf } from './turn-of.ts'
import { usablePlace } from '#core/detect/usable'
import type { AimedLines } from './vote-centre.ts'
import { complete } from './complete.ts'
import { mergeShared } from '#core/detect/stroke/merge-shared'

/** Marks round a shaft, in the plane of the paper. */
export interface Dial extends Sureness {
  readonly map: PlaneMap
  readonly centre: CombinedCentre
  readonly marks: readonly FittedMark[]
  readonly refused: readonly Refusal[]
  /** How many more marks there are since strokes that touch were read together. */
  readonly together: number
  /** Fitted when the marks go all the way round. */
  readonly turn: EvenTurn | null
  /** What the marks were seen on in the end. */
  readonly surface: Surface
  /** True when the marks are dots, not strokes. */
  readonly dots?: boolean
}

const DEG = 180 / Math.PI

/** How sure a mark is that has too little ink: listed as doubtful. */
const FAINT = 0.4

/** Is the candidate's middle between the radii that were given? */
const withinRadii = ({ middle }: Candidate, [x, y]: Point, { radiusRangePx }: Hints): boolean => {
  const radius = Math.hypot(middle[0] - x, middle[1] - y)
  return radiusRangePx === undefined || (radius >= radiusRangePx[0] && radius <= radiusRangePx[1])
}

const readOn = (raster: Raster, { candidates, vote }: AimedLines, surface: Surface, hints: Hints): Dial | Unmeasurable => {
  const start = hints.centrePx ?? surface.sheet?.centrePx ?? vote?.centrePx
  if (start === undefined) return unmeasurable('no point that several straight pen marks aim at could be found', 'photo', 'give the shaft centre with --centre x,y, or take a sharper photo with all marks in view')
  const map = turnedAsSeen(surface.map, start)
  const stage: Stage = { raster, candidates, map, surface, usable: usablePlace(surface, hints) }
  const centre0 = toPlane(map, start)
  const selection = selectMarks(candidates.filter((c) => withinRadii(c, start, hints)).map((c) => rayOf(c, map, centre0)), surface.ringMm ?? undefined)
  if (selection === null) return unmeasurable(`fewer than two pen marks aim at the ${hints.centrePx === undefined ? 'shaft centre' : 'centre that was given'}`, 'photo', 'check the centre and the radius range, or take a sharper photo with all marks in view')
  const early = selection.refused.map(({ ray, why }) => ({ p0: ray.candidate.p0, p1: ray.candidate.p1, why }))
  const fits = refineMarks(raster, selection.taken.map((r) => r.candidate)).flatMap((f) => (f === null ? [] : [f]))
  const first = judge(mergeShared(raster, fits), map, centre0)
  return settle(stage, { ...first, refused: [...early, ...first.refused] }, centre0, hints)
}

/** What the vote for a centre is worth when nothing else tells, as a share of the marks' radius. */
const VOTED = 0.1

const voted = (marks: readonly FittedMark[], centre: Point): NamedCentre => {
  const variance = (VOTED * radiusOf(marks)) ** 2
  return { from: 'strokes', centre, covariance: [variance, 0, variance] }
}

/** A turn that has its centre where nothing else has it was counted wrong. */
const agrees = (turn: EvenTurn, shown: readonly NamedCentre[]): boolean => combineCentres([...shown, { from: 'turn', ...turn }]).setAside.every(({ from }) => from !== 'turn')

/** From strokes that are marks to all of them, their centre and what a full turn tells. */
const settle = (stage: Stage, first: Judged, near: Point, hints: Hints): Dial => {
  const { map, surface } = stage
  const rough = roughCentres(stage, first.marks, near, hints.centrePx)
  const centre1 = rough.length === 0 ? near : combineCentres(rough).centre
  const judged = complete(stage, judge(first.marks.map((m) => m.fit), map, centre1), centre1)
  const shown = roughCentres(stage, judged.marks, centre1, hints.centrePx)
  const aimedAt = shown.length === 0 ? voted(judged.marks, centre1) : combineCentres(shown)
  const all = surenessOf(stage.raster, judged.marks, map, aimedAt.centre)
  const isMark = (_: unknown, i: number): boolean => (all.sureness[i] as number) > 0
  const [marks, sureness] = [judged.marks.filter(isMark), all.sureness.filter(isMark)]
  const even = turnOf(marks.filter((_, i) => (sureness[i] as number) >= SURE), map, aimedAt.centre, surface)
  const turn = even !== null && agrees(even, shown) ? even : null
  // A full turn of marks leaves nothing for a cross or a hole to tell, and who points at the shaft sees no more than the photo shows.
  const more: readonly NamedCentre[] = turn === null ? centresSeen(stage, marks, aimedAt).filter(({ from }) => from !== 'shaft' || hints.centrePx === undefined) : [{ from: 'turn', ...turn }]
  const centre = combineCentres(shown.length + more.length === 0 ? [voted(marks, centre1)] : [...shown, ...more])
  const known = [...first.refused, ...judged.refused]
  const faint = faintMarks(stage, marks, known, centre.centre)
  const refused = [...known, ...judged.marks.filter((m) => !marks.includes(m)).map((m) => refusalOf(m, 'the end of what lies over the paper'))]
  return { map, centre, marks: [...marks, ...faint].map((m) => fittedMark(m.fit, map, centre.centre)), refused, together: first.together + judged.together, turn, pointer: all.pointer, sureness: [...sureness, ...faint.map(() => FAINT)], surface }
}

const seenMarks = ({ marks, map, centre }: Dial): MarksSeen => ({
  centrePx: toPhoto(map, centre.centre),
  uCentrePx: Math.sqrt((centre.covariance[0] + centre.covariance[2]) / 2) * pxPerUnitAt(map, toPhoto(map, centre.centre)),
  strokes: marks.map(({ fit, widthPx }) => ({ ...endsOf(fit.model), widthPx })),
})

/** Nothing else is looked for where at best it would leave so little less than the full turn does. */
const NOT_WORTH = 1.5

/** Does the full turn tell the perspective about as well as anything could? */
const toldByTurn = ({ turn }: Dial): boolean => turn !== null && turn.uStretch > 0 && DEG * turn.uStretch < NOT_WORTH * LEAST_DOUBT

/** What lies about the marks and tells more of the perspective than the paper does: squares, rules or a circle; null where nothing does. */
const betterSurface = (raster: Raster, dial: Dial, surface: Surface, hints: Hints): Surface | null => {
  if (toldByTurn(dial)) return null
  const [marks, usable] = [seenMarks(dial), usablePlace(surface, hints)]
  const squares = chooseSquares(raster, marks, surface, hints, usable)
  if (squares !== null || !isOpen(surface)) return squares
  const rules = chooseRules(raster, marks, surface, usable)
  return circleSurface(raster, marks, rules ?? surface, usable) ?? rules
}

/** A camera tilted by more than some 11° has a full turn of marks judged again as if seen square on: stretch, tan²(t/2). */
const TILTED = 0.01

/** The surface as the full turn shows it square on, where nothing else told of the perspective; null where the camera is about square on. */
const levelled = (dial: Dial, surface: Surface): Surface | null =>
  surface.by === 'none' && dial.turn !== null && Math.hypot(...dial.turn.stretch) > TILTED ? { ...surface, map: squareOn(dial) } : null

/**
 * Marks round a shaft: the centre most lines aim at, the strokes that belong together, their fits, the centre from all that
 * tells it, overlooked marks, and over a full turn the camera's and the rig's own terms. Where the paper does not settle the perspective,
 * its squares or rules or a circle about the marks may, or the turn itself: then they are judged again on that plane.
 */
export const readDial = (raster: Raster, lines: AimedLines, surface: Surface, hints: Hints): Dial | Unmeasurable => {
  const dial = readOn(raster, lines, surface, hints)
  const better = isUnmeasurable(dial) ? null : (betterSurface(raster, dial, surface, hints) ?? levelled(dial, surface))
  if (isUnmeasurable(dial) || better === null) return dial
  const start = toPhoto(dial.map, dial.centre.centre)
  const map = turnedAsSeen(better.map, start)
  const near = toPlane(map, start)
  const stage = { raster, candidates: lines.candidates, map, surface: better, usable: usablePlace(better, hints) }
  return settle(stage, { ...dial, marks: dial.marks.map((m) => fittedMark(m.fit, map, near)) }, near, hints)
}
