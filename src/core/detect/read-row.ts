import type { Candidate } from '#core/detect/line/candidate'
import { describeStrip } from '#core/detect/strip/describe-strip'
import { isOn, narrowPapers, ratherOnPaper } from '#core/detect/strip/narrow-paper'
import { readStrip, type Strip } from '#core/detect/strip/read-strip'
import { isWritten } from '#core/detect/strip/written'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { amongOthers } from './among-others.ts'
import { LEAST_ROW } from './choose-rig.ts'
import type { Detection } from './detection.ts'
import { tooFaint } from './no-trace.ts'
import { type Ground, linesOn, type Scene } from './scene.ts'
import { usableCandidates } from './usable.ts'

/** Marks on a paper that nobody said the size of: rather as a ruler beside the paper has them, where one is made out; of a ruler that was taken for the paper, rather the ticks than what is written on it. */
const besideRuler = ({ raster, hints, surface }: Ground, onPaper: Strip | Unmeasurable): Strip | Unmeasurable => {
  const all = { ...surface, outline: null }
  const seen = readStrip(raster, linesOn({ raster, hints, surface: all }, true), all, hints)
  if (!isUnmeasurable(seen) && seen.likeRuler && (isUnmeasurable(onPaper) || isWritten(raster, onPaper.marks))) return seen
  return isUnmeasurable(seen) || seen.scale === null || (surface.outline !== null && !isOn(seen, surface.outline)) ? onPaper : seen
}

/** Marks in a row; where no paper is seen as a whole, rather those on a narrow strip of it. */
const stripIn = ({ raster, hints, surface }: Ground, lines: readonly Candidate[]): Strip | Unmeasurable => {
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

/** A row that nobody spoke of is chosen for its many marks: fewer in the end, as of a stone's grains, are none. Null when they stand. */
const tooFew = ({ marks }: Detection, { hints, surface }: Ground): Unmeasurable | null =>
  hints.rig !== undefined || surface.sheet !== null || marks.length >= LEAST_ROW
    ? null
    : unmeasurable('neither strokes that aim at one point nor a row of marks could be found', 'photo', 'take a sharper photo with all marks in view, or say with --rig, --centre or --radius-range where they are')

/**
 * Marks in a row, in the words of a detection.
 * @param lines those that may be marks, a ruler's ticks among them
 */
export const readRow = (scene: Scene, lines: readonly Candidate[]): Detection | Unmeasurable => {
  const strip = stripIn(scene, lines)
  if (isUnmeasurable(strip)) return strip
  const faint = tooFaint(strip.marks)
  if (faint !== null) return faint
  const seen = amongOthers(describeStrip(scene.raster, strip, scene.hints), strip.lines, scene)
  return isUnmeasurable(seen) ? seen : (tooFew(seen, scene) ?? seen)
}
