import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import type { View } from '#core/detect/dial/left-round'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { inkProfile } from '#core/detect/stroke/stroke-model'
import { quantile } from '#core/numeric/median'
import { choosePen, darknessOf, usualDarkness } from './choose-pen.ts'
import { areSingle, type Crowd, LEAST } from './crowd-of.ts'
import { amplitudeOf } from './ink-law.ts'
import { readRun, rereadRuns } from './read-run.ts'
import type { Pen } from './stroke-group.ts'

/** With strokes more unlike each other than this the pen has not been found (see usualDarkness). */
const UNLIKE = 0.37
/** A pencil's may be more so: by this share of what its lone strokes show, of which there are enough to tell, but no more than that. */
const UNEVEN = { ofLone: 0.7, least: 8, most: 0.55 } as const
/** Strokes that run into each other are darker than what one fit made of several; a pen whose strokes are paler than this share of the marks found one by one draws something else. */
const LEAST_DARK = 0.5
/** A pen this thin beside the first guess makes two of every stroke: it is not the one where strokes that stand by themselves are one each. */
const THIN = 0.8

/** How unlike each other one pen's strokes may come out, seen those that stand by themselves. */
const mostUnlike = (slim: readonly FittedMark[]): number => {
  if (slim.length < UNEVEN.least) return UNLIKE
  const { unlike } = usualDarkness(slim.map((m) => darknessOf(m.fit.model)))
  return Math.max(UNLIKE, Math.min(UNEVEN.most, UNEVEN.ofLone * unlike))
}

/** Darkness in the middle of a blurred stroke, grey levels. */
const peakOf = (amplitude: number, { halfWidth, sigma }: Pen): number => amplitude * inkProfile(0, halfWidth, sigma)

/**
 * Strokes that touch and are only a few px wide, read together: where the ink round the ring is wider than one stroke, as many
 * strokes of one pen as the photo supports take the place of the marks that were found there one by one.
 * @returns all fits, or null when nothing changes
 */
export const resolveGroups = (view: View, marks: readonly FittedMark[], crowd: Crowd): StrokeFit[] | null => {
  if (crowd.few) return null
  const { ring } = crowd
  const thin = THIN * crowd.guess.halfWidth
  const thinnest = crowd.slim.length >= LEAST && areSingle(view.raster, crowd.slim, thin) ? thin : 0
  const chosen = choosePen(view.raster, crowd.crowded, { ...crowd.guess, thinnest })
  if (chosen === null || chosen.unlike > mostUnlike(crowd.slim)) return null
  const amplitude = amplitudeOf(chosen.usual, chosen.pen, crowd.ground)
  if (peakOf(amplitude, chosen.pen) < LEAST_DARK * peakOf(ring.amplitude, { halfWidth: ring.halfWidthPx, sigma: ring.sigmaPx })) return null
  const known = { ...chosen, clumping: quantile(marks.map((m) => m.fit.clumping), 0.5), leaves: 0 }
  return rereadRuns(crowd.runsOf(chosen.pen, amplitude), marks, (run, found) => readRun(view.raster, run, known, found))
}
