import type { Candidate } from '#core/detect/line/candidate'
import { findCandidates } from '#core/detect/line/find-candidates'
import { endingWithin, splitLongLines } from '#core/detect/line/long-lines'
import { onTheBright } from '#core/detect/line/on-the-bright'
import { usualDepth, voteCentre } from '#core/detect/dial/vote-centre'
import { isGap } from '#core/detect/stroke/bare-between'
import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import { median } from '#core/numeric/median'
import type { Hints } from './detection.ts'
import { findSurface } from './find-surface.ts'
import type { Point, Raster } from './raster.ts'
import type { Surface } from './surface.ts'
import { usableCandidates, usablePlace } from './usable.ts'

/** A photo, its ink dark, and the surface that marks may lie on. */
export interface Ground {
  readonly raster: Raster
  readonly hints: Hints
  readonly surface: Surface
}

/** The same with the lines on it. */
export interface Scene extends Ground {
  /** Every thin straight line that may be a mark; fine ticks are looked for in a row only. */
  readonly lines: readonly Candidate[]
  /** Those of them that are no pieces of long ones. */
  readonly short: readonly Candidate[]
}

export const linesOn = ({ raster, hints, surface }: Ground, fineTicks: boolean): Candidate[] => {
  const found = findCandidates(raster, { usable: usablePlace(surface, hints), ...(hints.ignorePx === undefined ? {} : { paper: usablePlace(surface, {}) }), fineTicks })
  const usable = endingWithin(found, usableCandidates(found, surface, hints))
  return surface.outline === null ? onTheBright(raster, usable) : usable
}

const withLines = (ground: Ground): Scene => {
  const lines = linesOn(ground, ground.hints.rig === 'mirror')
  return { ...ground, lines, short: splitLongLines(lines).short }
}

/** The scene within an outline, px. */
export const within = (scene: Scene, outline: readonly Point[]): Scene => withLines({ ...scene, surface: { ...scene.surface, outline } })

/** A sheet of paper with fewer short lines on it than this is not the one that was marked. */
const LEAST_LINES = 3

/** The picture in which ink is dark: the photo itself, or its negative when the ink is said to be lighter than what it is on. */
const inkDark = (photo: Raster, { ink }: Hints): Raster => (ink === 'light' ? { ...photo, grey: photo.grey.map((value) => 255 - value) } : photo)

/** The surface with lines on it; a sheet of paper without any gives way to what lies beside it. */
const sceneIn = (photo: Raster, hints: Hints, sheet: SheetFix | null): Scene => {
  const raster = inkDark(photo, hints)
  const first = withLines({ raster, hints, surface: findSurface(photo, hints, sheet) })
  const { by, outline } = first.surface
  return by === 'paper' && outline !== null && first.short.length < LEAST_LINES ? withLines({ raster, hints, surface: findSurface(photo, hints, sheet, outline) }) : first
}

/** Half of a picture of dark card, no paper made out in it, is darker than this, grey levels; one of white paper only in the worst light. */
const DARK_CARD = 90
/** So many times as many and as deep must the light lines be that aim at one place: between light strokes lie dark ones, and the other way round. */
const BEYOND = 1.5
const LIGHT_INK = 'the marks were taken to be lighter than what they are on, as with chalk on dark card: say --ink dark if they are not'

/** Every so many pixels tell how dark a picture is. */
const SOME = 101
const usualGrey = ({ grey }: Raster): number => median(Uint8Array.from({ length: Math.ceil(grey.length / SOME) }, (_, i) => grey[SOME * i] as number))

/** Lines that are not just the gap between two others. */
const drawnIn = ({ short, raster }: Scene): Candidate[] => short.filter((line) => !isGap(raster, line))

/** Without paper made out: is the picture dark, or are most of its dark lines gaps, as they are where light strokes stand on dark card on a bright table? */
const mayBeDarkCard = (scene: Scene): boolean =>
  scene.hints.ink === undefined && scene.surface.by === 'none' && (usualGrey(scene.raster) < DARK_CARD || 2 * drawnIn(scene).length < scene.short.length)

const aimAtOnePlace = (scene: Scene): number => {
  const [drawn, { width, height }] = [drawnIn(scene), scene.raster]
  return (voteCentre(drawn, width, height)?.score ?? 0) * usualDepth(drawn)
}

/** A photo with its surface and lines; of a dark one without paper, the lines that are light if more of them aim at one place. */
export const sceneOf = (photo: Raster, hints: Hints, sheet: SheetFix | null): Scene => {
  const scene = sceneIn(photo, hints, sheet)
  if (!mayBeDarkCard(scene)) return scene
  const light = sceneIn(photo, { ...hints, ink: 'light' }, sheet)
  return aimAtOnePlace(light) > BEYOND * aimAtOnePlace(scene) ? { ...light, surface: { ...light.surface, doubts: [LIGHT_INK] } } : scene
}
