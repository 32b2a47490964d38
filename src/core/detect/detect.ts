import { centreAstray, tooDoubtful, tooFaint, tooFar } from './no-trace.ts'
import { findSheet } from '#core/detect/sheet/find-sheet'
import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { amongOthers } from './among-others.ts'
import { onPrintedSheet } from './bare-sheet.ts'
import type { Candidate } from '#core/detect/line/candidate'
import { chooseRig, LEAST_ROW, standBesideRuler } from './choose-rig.ts'
import { describeDial } from '#core/detect/dial/describe-dial'
import { describeStrip } from '#core/detect/strip/describe-strip'
import type { Detection, DetectPorts, Hints } from './detection.ts'
import { forgetPhoto } from '#core/detect/kernels/workspace'
import { findCandidates } from '#core/detect/line/find-candidates'
import { inkDark } from '#core/detect/line/ink-dark'
import { endingWithin, splitLongLines } from '#core/detect/line/long-lines'
import { onTheBright } from '#core/detect/line/on-the-bright'
import type { Raster } from './raster.ts'
import { readDots } from './dots/read-dots.ts'
import { readDial } from '#core/detect/dial/read-dial'
import { ratherOnSmooth } from '#core/detect/paper/smooth-paper'
import { isOn, narrowPapers, ratherOnPaper } from '#core/detect/strip/narrow-paper'
import { readStrip, type Strip } from '#core/detect/strip/read-strip'
import { isWritten } from '#core/detect/strip/written'
import { findSurface, type Surface } from './surface.ts'
import { usableCandidates, usablePlace } from './usable.ts'
import { type AimedLines, voteCentre } from '#core/detect/dial/vote-centre'

/** Must the lines themselves say where the shaft is? */
const centreIsOpen = ({ rig, centrePx }: Hints, { sheet }: Surface): boolean => rig !== 'mirror' && centrePx === undefined && sheet === null

/** A photo with the surface that marks may lie on. */
interface Scene {
  readonly raster: Raster
  readonly hints: Hints
  readonly sheet: SheetFix | null
  readonly surface: Surface
  /** Every thin straight line that may be a mark; fine ticks are looked for in a row only. */
  readonly lines: readonly Candidate[]
  /** Those of them that are no pieces of long ones. */
  readonly short: readonly Candidate[]
}

const linesOn = ({ raster, hints, surface }: Pick<Scene, 'raster' | 'hints' | 'surface'>, fineTicks: boolean): Candidate[] => {
  const found = findCandidates(raster, { usable: usablePlace(surface, hints), ...(hints.ignorePx === undefined ? {} : { paper: usablePlace(surface, {}) }), fineTicks })
  const usable = endingWithin(found, usableCandidates(found, surface, hints))
  return surface.outline === null ? onTheBright(raster, usable) : usable
}

/** A sheet of paper with fewer short lines on it than this is not the one that was marked. */
const LEAST_LINES = 3

const isBlank = ({ surface: { by }, short }: Scene): boolean => by === 'paper' && short.length < LEAST_LINES

/** A photo and its surface, with the lines on that. */
const withLines = (photo: Omit<Scene, 'lines' | 'short'>): Scene => {
  const lines = linesOn(photo, photo.hints.rig === 'mirror')
  return { ...photo, lines, short: splitLongLines(lines).short }
}

/** The surface with lines on it; a sheet of paper without any gives way to what lies beside it. */
const sceneOf = (photo: Raster, hints: Hints, sheet: SheetFix | null): Scene => {
  const raster = inkDark(photo, hints)
  const first = withLines({ raster, hints, sheet, surface: findSurface(photo, hints, sheet) })
  return isBlank(first) && first.surface.outline !== null ? withLines({ ...first, surface: findSurface(photo, hints, sheet, first.surface.outline) }) : first
}

/** A pattern among many like it is no trace, unless a printed sheet says that this is one. */
const judged = (seen: Detection, among: readonly Candidate[], { hints, sheet }: Scene): Detection | Unmeasurable => (sheet === null ? amongOthers(seen, among, hints) : seen)

/** Marks on a paper that nobody said the size of: rather as a ruler beside the paper has them, where one is made out; of a ruler that was taken for the paper, rather the ticks than what is written on it. */
const besideRuler = ({ raster, hints, surface }: Pick<Scene, 'raster' | 'hints' | 'surface'>, onPaper: Strip | Unmeasurable): Strip | Unmeasurable => {
  const all = { ...surface, outline: null }
  const seen = readStrip(raster, linesOn({ raster, hints, surface: all }, true), all, hints)
  if (!isUnmeasurable(seen) && seen.likeRuler && (isUnmeasurable(onPaper) || isWritten(raster, onPaper.marks))) return seen
  return isUnmeasurable(seen) || seen.scale === null || (surface.outline !== null && !isOn(seen, surface.outline)) ? onPaper : seen
}

/** Marks in a row; where no paper is seen as a whole, rather those on a narrow strip of it. */
const stripIn = ({ raster, hints, surface, lines }: Scene): Strip | Unmeasurable => {
  const seen = readStrip(raster, lines, surface, hints)
  // Marks beside a ruler that was made out are a trace, on whatever they stand.
  if (!isUnmeasurable(seen) && seen.scale !== null) return seen
  if (surface.by === 'paper' && hints.paperMm === undefined) return besideRuler({ raster, hints, surface }, seen)
  if (surface.by !== 'none') return seen
  return ratherOnPaper(seen, narrowPapers(raster), (outline) => {
    const paper = { ...surface, outline }
    return readStrip(raster, usableCandidates(lines, paper, hints), paper, hints)
  })
}

/** A row that nobody spoke of is chosen for its many marks: fewer in the end, as of a stone's grains, are none. */
const longEnough = (seen: Detection | Unmeasurable, { hints, sheet }: Scene): Detection | Unmeasurable =>
  isUnmeasurable(seen) || hints.rig !== undefined || sheet !== null || seen.marks.length >= LEAST_ROW
    ? seen
    : unmeasurable('neither strokes that aim at one point nor a row of marks could be found', 'photo', 'take a sharper photo with all marks in view, or say with --rig, --centre or --radius-range where they are')

/** @param lines those that may be marks in a row, a ruler's ticks among them */
const readRow = (scene: Scene, lines: readonly Candidate[]): Detection | Unmeasurable => {
  const strip = stripIn({ ...scene, lines })
  return isUnmeasurable(strip) ? strip : (tooFaint(strip.marks) ?? longEnough(judged(describeStrip(scene.raster, strip, scene.hints), strip.lines, scene), scene))
}

const readRound = (scene: Scene, aimed: AimedLines): Detection | Unmeasurable => {
  const { raster, surface, hints } = scene
  const dial = readDial(raster, aimed, surface, hints)
  if (isUnmeasurable(dial)) return dial
  const seen = describeDial(raster, dial, hints)
  return tooFaint(dial.marks) ?? centreAstray(dial) ?? tooDoubtful(seen) ?? tooFar(seen, hints) ?? judged(seen, scene.lines, scene)
}

/** Lines that may be strokes round a shaft, with the place most of them aim at where they must tell it. */
const aimedIn = ({ raster, hints, surface, short }: Scene): AimedLines => ({ candidates: short, vote: centreIsOpen(hints, surface) ? voteCentre(short, raster.width, raster.height) : null })

/** Strokes round a shaft, or marks in a row; a row too faint to be chosen is looked for where nothing else is seen, if a ruler lies beside it. */
const readStrokes = (scene: Scene): Detection | Unmeasurable => {
  const { raster, hints, surface, lines } = scene
  const open = centreIsOpen(hints, surface)
  const aimed = aimedIn(scene)
  if (chooseRig(raster, aimed, surface, hints) === 'mirror') return readRow(scene, hints.rig === 'mirror' ? lines : linesOn(scene, true))
  const seen = readRound(scene, aimed)
  if (!isUnmeasurable(seen) || !open || hints.rig !== undefined) return seen
  const fine = linesOn(scene, true)
  return standBesideRuler(raster, splitLongLines(fine).short, surface) ? readRow(scene, fine) : seen
}

/** What is read of the whole photo; where no paper was made out, rather round a shaft on something smooth and bright in it. */
const readMarks = (scene: Scene): Detection | Unmeasurable => {
  const seen = readStrokes(scene)
  if (scene.surface.by !== 'none' || scene.hints.rig === 'mirror') return seen
  return ratherOnSmooth(seen, scene, (outline) => {
    const paper = withLines({ ...scene, surface: { ...scene.surface, outline } })
    return readRound(paper, aimedIn(paper))
  })
}

/**
 * THE MAP: photo → marks with their uncertainties, or what stands in the way.
 * Printed sheet → paper and perspective → every thin straight dark line → those on the paper that are no rules or folds →
 * round a shaft or in a row → the ones that belong together, fitted to a fraction of a px → the words of a detection.
 */
export const detect = (photo: Raster, hints: Hints = {}, ports: DetectPorts = {}): Detection | Unmeasurable => {
  forgetPhoto()
  const sheet = ports.sheet === undefined ? findSheet(photo) : ports.sheet
  const scene = sceneOf(photo, hints, sheet)
  const strokes = readMarks(scene)
  const seen = readDots(scene.raster, strokes, scene.surface, hints) ?? strokes
  return sheet === null ? seen : onPrintedSheet(seen)
}
