import type { Hints } from '#core/detect/detection'
import { composeHomographies } from '#core/numeric/homography'
import { medianOrZero } from '#core/numeric/median'
import { type PlaneMap, planeMap, toPlane } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { isSized, type Surface } from '#core/detect/surface'
import { focalPx } from '#core/detect/lens'
import { type Ruler, standing } from './ruler.ts'
import { fitRuler, knownBy, type RulerFit } from './ruler-map.ts'

/** How truly a ruler is divided, printed or cut: relative (common practice, no source). */
const DIVIDED = 5e-4

/** How far the divided edge of a ruler stands above the paper at most, mm: nothing where it is printed, some 0.5 to 1 of steel, 1 to 1.5 of bevelled plastic and wood (common practice, no source). */
const HIGHEST = 1.5
/** The same as a standard uncertainty, rectangular from the paper up. */
const RAISED = HIGHEST / Math.sqrt(3)

/** Relative uncertainty of a scale told by ticks that may be nearer to the camera than the paper is: by their height over the camera's distance, told by the photo's own or a usual lens. */
const scaleDoubt = ({ ticks }: Ruler, tickMm: number, raster: Raster): number => {
  const pxPerMm = medianOrZero(ticks.map((t) => t.stepPx)) / tickMm
  return Math.hypot(DIVIDED, (RAISED * pxPerMm) / focalPx(raster))
}

/** Millimetres per plane unit with its relative standard uncertainty, and what told it. */
export interface Scale {
  readonly mmPerUnit: number
  readonly relative: number
  readonly from: 'points' | 'sheet' | 'ruler' | 'paper'
  readonly words: string
}

export interface Ground {
  readonly surface: Surface
  /** By the ruler; null when it has no known unit or there is none. */
  readonly scale: Scale | null
  readonly doubts: readonly string[]
}

const scaled = ({ homography, radial }: PlaneMap, size: number): PlaneMap => planeMap(composeHomographies([size, 0, 0, 0, size, 0, 0, 0, 1], homography), radial)

/** Plane units of one tick in a map that is not the ruler’s own. */
const tickIn = (map: PlaneMap, { ticks }: Ruler): number => {
  const [first, last] = [ticks[0], ticks[ticks.length - 1]]
  if (first === undefined || last === undefined) return Number.NaN
  const [a, b] = [toPlane(map, first.foot), toPlane(map, last.foot)]
  return Math.hypot(b[0] - a[0], b[1] - a[1]) / Math.abs(last.index - first.index)
}

/** A scale whose unit is open is said, with what the paper would make of it. */
const unitDoubts = (ruler: Ruler, tickMm: number | null, measured: number | null, sized: boolean): string[] => {
  const seen = measured === null ? '' : `; ${sized ? 'measured on the paper, one is' : 'were the paper the sheet its shape was taken for, one would be'} ${measured.toFixed(2)} mm`
  if (tickMm === null) return [`a row of ${ruler.ticks.length} even ticks was found beside the marks, but ${ruler.lengths.words}: what one tick is is not known${seen}; say it in mm with --tick`]
  return measured !== null && Math.abs(measured / tickMm - 1) > 0.03 ? [`a tick of the ruler was taken for ${Number(tickMm.toPrecision(6))} mm${seen}: check the size of the paper (--paper) and the ruler (--tick)`] : []
}

/** What was measured of the ticks fits what else is known no worse than this: standard uncertainties, and what it leaves of their number and adds to their scatter. */
const MOST_OFF = 4
const LEAST_LEFT = 0.8
const MOST_WORSE = 2
const WORSE_PX = 0.05

const APART = 'the ruler’s ticks and the paper’s edges do not tell one perspective: the ruler does not lie flat on the paper, or lies over an edge of it; lay it beside the paper, flat on what that lies on'

interface Told extends Pick<RulerFit, 'map' | 'alternatives'> {
  readonly by: string
  readonly doubts: readonly string[]
}

/** The plane told by the ticks, which say the scale well and the perspective across their line hardly, and by the paper's edges, which say that, each as well as it is known. */
const toldBy = (raster: Raster, { by, map, alternatives }: Surface, ruler: Ruler): Told => {
  const known = by === 'paper' || by === 'edges' ? knownBy(map, alternatives, raster) : null
  const fit = known === null ? null : fitRuler(ruler.measured, raster, known)
  if (fit === null) return { ...ruler, by: 'perspective by its ticks alone', doubts: [] }
  const both = standing(fit, ruler.ticks)
  const isApart = fit.off > MOST_OFF || fit.ticks.length < LEAST_LEFT * ruler.measured.length || fit.rmsPx > MOST_WORSE * ruler.rmsPx + WORSE_PX
  return isApart ? { ...ruler, alternatives: [...ruler.alternatives, both.map], by: 'perspective by its ticks alone', doubts: [APART] } : { ...both, by: 'perspective by its ticks and the paper’s edges', doubts: [] }
}

/**
 * The plane the marks are measured in when a ruler lies beside them: the ruler’s own, unless corners were given or the ruler’s
 * unit is open and the paper’s size is known.
 */
export const rulerSurface = (raster: Raster, surface: Surface, ruler: Ruler, hints: Hints): Ground => {
  const given = hints.tickMm
  const tickMm = given ?? ruler.lengths.tickMm
  const sized = isSized(surface, hints)
  // A tick that was said is not held against a paper whose size is only guessed.
  const measured = sized || (surface.metric && given === undefined) ? tickIn(surface.map, ruler) : null
  const doubts = unitDoubts(ruler, tickMm, measured, sized)
  const words = (by: string): string => `a ruler of ${ruler.ticks.length} ticks beside the marks${by}, each ${tickMm === null ? '' : Number(tickMm.toPrecision(6))} mm (${given === undefined ? ruler.lengths.words : 'as was said'}), its face on the paper or up to ${HIGHEST} mm above it`
  const relative = tickMm === null ? 0 : scaleDoubt(ruler, tickMm, raster)
  if (surface.by === 'corners' || (tickMm === null && surface.metric)) {
    return { surface, doubts, scale: tickMm === null ? null : { mmPerUnit: tickMm / tickIn(surface.map, ruler), relative, from: 'ruler', words: words('') } }
  }
  const size = tickMm ?? 1
  const told = toldBy(raster, surface, ruler)
  return {
    surface: { ...surface, by: 'ruler', map: scaled(told.map, size), alternatives: told.alternatives.map((m) => scaled(m, size)), metric: tickMm !== null, loose: false, doubts: [] },
    doubts: [...doubts, ...told.doubts],
    scale: tickMm === null ? null : { mmPerUnit: 1, relative, from: 'ruler', words: words(` (${told.by})`) },
  }
}
