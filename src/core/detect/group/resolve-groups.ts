import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { turnBetween } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { isRatherTwo } from '#core/detect/stroke/split-wide'
import type { Ring, View } from '#core/detect/dial/second-look'
import { oneBroadPen } from '#core/detect/dial/second-kind'
import { inkProfile, seenWidth } from '#core/detect/stroke/stroke-model'
import { quantile } from '#core/numeric/median'
import { type ChosenPen, choosePen } from './choose-pen.ts'
import { type Count, countStrokes, scoreOf } from './count-strokes.ts'
import { fitGroup, type GroupFit } from './fit-group.ts'
import { strokesOf } from './group-strokes.ts'
import { amplitudeOf } from './ink-law.ts'
import { type InkRun, inkRuns } from './ink-runs.ts'
import { binned, type GroupPixels, groupPixels, type Pen } from './stroke-group.ts'

/** Broader strokes, px as seen, are told apart one by one; narrower ones that touch are read together. */
const NARROW = 5.2
/** An inked piece wider than this many strokes as seen may hold more than one. */
const CROWDED = 1.35
/** Fewer such pieces do not tell the pen. */
const LEAST = 3
/** Fewer than this share are left to be told apart one by one. */
const FEWEST = 0.1
/** And so may all of them, when the marks look broader than pens draw, mm (common practice, no source). */
const BROADEST_MM = 1.1
/** With strokes more unlike each other than this (see choosePen) the pen has not been found: median plus 80 % point of |ln(darkness over usual)|. */
const UNLIKE = 0.37
/** Strokes that run into each other are darker than what one fit made of several; a pen whose strokes are paler than this share of the marks found one by one draws something else. */
const LEAST_DARK = 0.5
/** Strokes taken for one look paler than they are, the paper between them counted in, by about this much. */
const PALER = 1.3
/** Few photos are sharper than the first, px, and none than the second; a fit may say so where width and blur cannot be told apart. */
const USUAL_BLUR = 0.9
const LEAST_BLUR = 0.65

/** Darkness in the middle of a blurred stroke, grey levels. */
const peakOf = (amplitude: number, { halfWidth, sigma }: Pen): number => amplitude * inkProfile(0, halfWidth, sigma)

/** Does one even band as broad as all strokes together say as much, by the criterion that counts them: a pointer, or a smudge, without paper in it? */
const isBand = (pixels: GroupPixels, { fit: { strokes }, score }: Count, { frame }: InkRun, { pen, usual }: ChosenPen): boolean => {
  const places = strokes.map((s) => s.offset)
  const [from, to] = [Math.min(...places), Math.max(...places)]
  const band = strokes.slice(0, 1).map((s) => ({ ...s, offset: (from + to) / 2 }))
  const whole = fitGroup(pixels, band, frame, { ...pen, halfWidth: pen.halfWidth + (to - from) / 2 }, usual)
  return whole !== null && scoreOf(whole, pixels) < score
}

/** Several strokes in one's place leave this many times as much behind: 1.4 to 2.1 for a real dial's broad ticks, seldom above 1.2 for rendered groups. */
const FAR_MORE = 1.3

/** Is a broad stroke that was found by itself one: do more strokes than it has room for, side by side, leave far more behind? */
const isRatherOne = ({ fit, widthPx }: FittedMark, { strokes, noise }: GroupFit, { pen }: ChosenPen): boolean =>
  strokes.length * 2 * pen.halfWidth > widthPx && noise > FAR_MORE * fit.noise

/** The strokes of one run, when they are not as many as the marks already found there. */
const readRun = ({ raster }: View, run: InkRun, chosen: ChosenPen, found: readonly FittedMark[], clumping: number): StrokeFit[] | null => {
  if (2 * run.extent < CROWDED * seenWidth(chosen.pen) && found.length === 1) return null
  const pixels = groupPixels(raster, run.frame)
  const bins = binned(pixels, run.frame)
  const count = countStrokes(bins, run, chosen.pen, chosen.usual)
  if (count === null || count.fit.strokes.filter((s) => Math.abs(s.offset) <= run.extent).length === found.length || isBand(bins, count, run, chosen)) return null
  const whole = fitGroup(pixels, count.fit.strokes, run.frame, chosen.pen, chosen.usual)
  if (whole === null || (found.length === 1 && isRatherOne(found[0] as FittedMark, whole, chosen))) return null
  return strokesOf(whole, run, chosen, clumping)
}

const within = ({ frame, extent }: InkRun, [x, y]: Point): boolean => {
  const dx = x - frame.middle[0]
  const dy = y - frame.middle[1]
  return Math.abs(dx * frame.along[0] + dy * frame.along[1]) < frame.halfLength && Math.abs(dy * frame.along[0] - dx * frame.along[1]) <= extent
}

/** Corners of the piece of the photo that a run is read in, px. */
const cornersOf = ({ frame: { middle, along, halfLength, reach } }: InkRun): Point[] =>
  [[-1, -1], [-1, 1], [1, -1], [1, 1]].map(([t = 0, s = 0]): Point => [middle[0] + t * halfLength * along[0] - s * reach * along[1], middle[1] + t * halfLength * along[1] + s * reach * along[0]])

const SECTORS = 72

/** Brightness of the paper at a bearing: that beside the nearest marks. */
const paperBeside = (marks: readonly FittedMark[]): ((angle: number) => number) => {
  const sectors = Array.from({ length: SECTORS }, (_, i) => {
    const angle = (2 * Math.PI * i) / SECTORS
    const near = [...marks].sort((p, q) => Math.abs(turnBetween(p.bearing, angle)) - Math.abs(turnBetween(q.bearing, angle))).slice(0, 5)
    return quantile(near.map((m) => m.fit.paper), 0.5)
  })
  return (angle) => sectors[((Math.round((angle / (2 * Math.PI)) * SECTORS) % SECTORS) + SECTORS) % SECTORS] as number
}

/** So many strokes tell whether all are broad or pairs. */
const TELLING = 7
/** A pen this thin beside the first guess makes two of every stroke: it is not the one where strokes that stand by themselves are one each. */
const THIN = 0.8

/** Is each of these strokes one, rather than two of this half width, px, side by side? */
const areSingle = (raster: Raster, marks: readonly FittedMark[], halfWidth: number): boolean => {
  const some = marks.slice(0, TELLING)
  return some.filter((m) => isRatherTwo(raster, m.fit, halfWidth)).length < some.length / 2
}

/** Are these strokes of a second, broader pen, and not pairs of the usual one's, which may be alike too? */
const drawnBroad = (raster: Raster, marks: readonly FittedMark[], { halfWidth }: Pen): boolean =>
  oneBroadPen(marks.map((m) => m.widthPx)) && areSingle(raster, marks, halfWidth)

/** The marks found in these runs one to a run. */
const oneToARun = (marks: readonly FittedMark[], runs: readonly InkRun[]): FittedMark[] =>
  runs.flatMap((run) => {
    const inside = marks.filter((m) => within(run, m.fit.model.middle))
    return inside.length === 1 ? inside : []
  })

/**
 * Strokes that touch and are only a few px wide, read together: where the ink round the ring is wider than one stroke, as many
 * strokes of one pen as the photo supports take the place of the marks that were found there one by one.
 * @param view with where on the photo a mark may lie
 * @param pxPerMm null when the scale is not known
 * @returns all fits, or null when nothing changes
 */
export const resolveGroups = (view: View & { readonly usable: (px: Point) => boolean }, marks: readonly FittedMark[], ring: Ring, pxPerMm: number | null): StrokeFit[] | null => {
  const widths = marks.map((m) => m.widthPx)
  const broad = pxPerMm !== null && quantile(widths, 0.5) > BROADEST_MM * pxPerMm
  const blur = quantile(marks.map((m) => m.fit.model.sigma), 0.5)
  const guess = { halfWidth: Math.min(quantile(widths, 0.25), pxPerMm === null ? Number.POSITIVE_INFINITY : 0.8 * pxPerMm) / 2, sigma: Math.max(USUAL_BLUR, blur) }
  if (seenWidth(guess) > NARROW) return null
  const zone = [quantile(marks.map((m) => m.inner), 0.1), quantile(marks.map((m) => m.outer), 0.9)] as const
  const paper = paperBeside(marks)
  // Groups that were refused one by one leave gaps: a ring that goes more than half way round is looked at all round.
  const round = ring.span > Math.PI ? { ...ring, from: 0, span: 2 * Math.PI } : ring
  const onPaper = (run: InkRun): boolean => cornersOf(run).every(view.usable)
  const first = inkRuns(view, { ...round, halfWidthPx: guess.halfWidth, sigmaPx: guess.sigma }, zone, paper).filter(onPaper)
  const crowded = first.filter((run) => 2 * run.extent > CROWDED * seenWidth(guess))
  const alone = oneToARun(marks, crowded)
  // Strokes of a second, broader pen lie by themselves and are alike, as are all strokes of a broad one; strokes that run into each other are not.
  if (broad ? oneBroadPen(widths) : alone.length > 0.8 * crowded.length && drawnBroad(view.raster, alone, guess)) return null
  if (crowded.length < (broad ? LEAST : Math.max(LEAST, FEWEST * first.length))) return null
  const slim = oneToARun(marks, first.filter((run) => !crowded.includes(run)))
  const thinnest = slim.length >= LEAST && areSingle(view.raster, slim, THIN * guess.halfWidth) ? THIN * guess.halfWidth : 0
  const sigmas = blur < USUAL_BLUR ? [USUAL_BLUR, Math.max(LEAST_BLUR, blur)] : [blur]
  const ground = quantile(marks.map((m) => m.fit.paper), 0.5)
  const chosen = choosePen(view.raster, crowded, { halfWidth: guess.halfWidth, sigmas, usual: PALER * ring.amplitude, paper: ground, thinnest })
  if (chosen === null || chosen.unlike > UNLIKE) return null
  const amplitude = amplitudeOf(chosen.usual, chosen.pen, ground)
  if (peakOf(amplitude, chosen.pen) < LEAST_DARK * peakOf(ring.amplitude, { halfWidth: ring.halfWidthPx, sigma: ring.sigmaPx })) return null
  const runs = inkRuns(view, { ...round, halfWidthPx: chosen.pen.halfWidth, sigmaPx: chosen.pen.sigma, amplitude }, zone, paper).filter(onPaper)
  const clumping = quantile(marks.map((m) => m.fit.clumping), 0.5)
  const place = (m: FittedMark): Point => m.fit.model.middle
  let kept = marks.map((m) => m.fit)
  let changed = false
  for (const run of runs) {
    const found = marks.filter((m) => within(run, place(m)))
    const strokes = readRun(view, run, chosen, found, clumping)
    if (strokes === null) continue
    changed = true
    kept = [...kept.filter((f) => !found.some((m) => m.fit === f)), ...strokes]
  }
  return changed ? kept : null
}
