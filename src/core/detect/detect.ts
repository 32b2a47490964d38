import { describeDial } from '#core/detect/dial/describe-dial'
import { readDial } from '#core/detect/dial/read-dial'
import { type AimedLines, voteCentre } from '#core/detect/dial/vote-centre'
import { forgetPhoto } from '#core/detect/kernels/workspace'
import { splitLongLines } from '#core/detect/line/long-lines'
import { ratherOnSmooth } from '#core/detect/paper/smooth-paper'
import { findSheet } from '#core/detect/sheet/find-sheet'
import { type CodeReader, readPayload } from '#core/detect/sheet/read-payload'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { amongOthers } from './among-others.ts'
import { chooseRig, standBesideRuler } from './choose-rig.ts'
import type { Detection, DetectPorts, Hints } from './detection.ts'
import { readDots } from './dots/read-dots.ts'
import { centreAstray, noTraceOnSheet, tooDoubtful, tooFaint, tooFar } from './no-trace.ts'
import type { Raster } from './raster.ts'
import { ratherLonger } from './rather-longer.ts'
import { ratherRound } from './rather-round.ts'
import { readRow } from './read-row.ts'
import { type Ground, linesOn, type Scene, sceneOf, within } from './scene.ts'

/** Must the lines themselves say where the shaft is? */
const centreIsOpen = ({ hints: { rig, centrePx }, surface: { sheet } }: Ground): boolean => rig !== 'mirror' && centrePx === undefined && sheet === null

/** Lines that may be strokes round a shaft, with the place most of them aim at where they must tell it. */
const aimedIn = (scene: Scene): AimedLines => ({ candidates: scene.short, vote: centreIsOpen(scene) ? voteCentre(scene.short, scene.raster.width, scene.raster.height) : null })

/** @param amongMany what is read where the marks were picked from many lines of their kind */
const readRound = (scene: Scene, aimed: AimedLines, amongMany = inWriting): Detection | Unmeasurable => {
  const { raster, surface, hints, lines } = scene
  const dial = readDial(raster, aimed, surface, hints)
  if (isUnmeasurable(dial)) return dial
  const seen = describeDial(raster, dial, hints)
  const wrong = tooFaint(dial.marks) ?? centreAstray(dial) ?? tooDoubtful(seen) ?? tooFar(seen, hints)
  if (wrong !== null) return wrong
  const doubted = amongOthers(seen, lines, scene)
  return doubted === seen ? seen : amongMany(seen, doubted, scene)
}

const NO_TRACE = unmeasurable('the lines that aim at one place are few among others like them', 'photo', 'photograph the marks alone')

const inWriting = (seen: Detection, doubted: Detection | Unmeasurable, scene: Scene): Detection | Unmeasurable =>
  ratherLonger(seen, doubted, scene, (rest) => readRound(rest, aimedIn(rest), () => NO_TRACE))

/** Strokes round a shaft, or marks in a row; a row too faint to be chosen is looked for where nothing else is seen, if a ruler lies beside it. */
const readStrokes = (scene: Scene): Detection | Unmeasurable => {
  const { raster, hints, surface, lines } = scene
  const aimed = aimedIn(scene)
  if (chooseRig(raster, aimed, surface, hints) === 'mirror') return ratherRound(readRow(scene, hints.rig === 'mirror' ? lines : linesOn(scene, true)), scene, (rest) => readRound(rest, aimedIn(rest)))
  const seen = readRound(scene, aimed)
  if (!isUnmeasurable(seen) || !centreIsOpen(scene) || hints.rig !== undefined) return seen
  const fine = linesOn(scene, true)
  return standBesideRuler(raster, splitLongLines(fine).short, surface) ? readRow(scene, fine) : seen
}

/** What is read of the whole photo; where no paper was made out, rather round a shaft on something smooth and bright in it. */
const readMarks = (scene: Scene): Detection | Unmeasurable => {
  const seen = readStrokes(scene)
  if (scene.surface.by !== 'none' || scene.hints.rig === 'mirror') return seen
  return ratherOnSmooth(seen, scene, (outline) => {
    const paper = within(scene, outline)
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
  return sheet !== null && isUnmeasurable(seen) ? noTraceOnSheet(seen) : seen
}

/** The same, a printed sheet's code read first by the reader that is brought; what it says needs no options then. */
export const detectWithCode = async (photo: Raster, hints: Hints, read: CodeReader): Promise<Detection | Unmeasurable> => {
  forgetPhoto()
  const fix = findSheet(photo)
  return detect(photo, hints, { sheet: fix === null ? null : await readPayload(photo, fix, read) })
}
