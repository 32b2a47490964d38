import { median } from '#core/numeric/median'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { meanAmplitude } from '#core/detect/stroke/stroke-model'
import type { Detection, Hints } from './detection.ts'
import { toPhoto } from './plane-map.ts'
import { radiusOf } from '#core/detect/centre/dial-centres'
import type { Dial } from '#core/detect/dial/read-dial'

/** Ink darkens the paper by at least this share, even a hard pencil's in a blurred photo; grain of the picture seldom does (simulated photos). */
const FAINTEST = 0.04
/** Half as dark will do where it is so many times what the paper varies by: a fine pencil in a small quiet photo. */
const ABOVE_GRAIN = 4

/** No marks, or marks hardly darker than what they lie on, which are none: grain or noise was read. Null when they stand. */
export const tooFaint = (marks: readonly { readonly fit: StrokeFit }[]): Unmeasurable | null => {
  if (marks.length === 0) return unmeasurable('the lines that aim at one point are no pen strokes that are like each other', 'photo', 'say with --centre and --radius-range where the marks are, or take a sharper photo of them from straight above')
  const contrast = median(marks.map(({ fit: { model, paper } }) => meanAmplitude(model) / Math.max(10, paper)))
  const aboveGrain = median(marks.map(({ fit: { model, noise } }) => meanAmplitude(model) / Math.max(1, noise)))
  return contrast >= (aboveGrain >= ABOVE_GRAIN ? FAINTEST / 2 : FAINTEST) ? null : unmeasurable(`no pen marks: what looks most like them is only ${(100 * contrast).toFixed(1)} % darker than what it lies on`, 'photo', 'take a sharp photo of the marks in brighter, even light, from as near as shows them all; draw over marks that are too faint')
}

/** More doubtful marks than this, and more than the sure ones, are texture rather than a trace. */
const MOST_DOUBTFUL = 12

/** A detection most of whose marks are doubtful is none: grain, a weave or writing was read. Null when it stands. */
export const tooDoubtful = ({ marks }: Detection): Unmeasurable | null => {
  const doubtful = marks.filter((m) => m.confidence < 0.5).length
  if (doubtful <= MOST_DOUBTFUL || doubtful <= marks.length - doubtful) return null
  return unmeasurable(
    `${doubtful} of ${marks.length} strokes are unlike the rest: texture or writing was probably read instead of marks`,
    'photo',
    'give the shaft centre and the radii with --centre and --radius-range, cover what is not a mark, or take a sharper photo of the paper alone',
  )
}

/** A shaft that lies farther outside the picture than so many of its diagonals shows only strokes that are all but parallel: grain, brushed metal, a weave. */
const FARTHEST = 1.5

/** Marks about a place far outside the picture are none, unless a person said where the shaft is. Null when they stand. */
export const tooFar = ({ centrePx, widthPx, heightPx, sheet }: Detection, hints: Hints): Unmeasurable | null => {
  if (centrePx === null || sheet !== null || hints.centrePx !== undefined) return null
  const beyond = (value: number, size: number): number => Math.max(0, -value, value - size)
  const away = Math.hypot(beyond(centrePx[0], widthPx), beyond(centrePx[1], heightPx)) / Math.hypot(widthPx, heightPx)
  if (away < FARTHEST) return null
  return unmeasurable(
    `the strokes that look most like marks aim at a place ${away.toFixed(1)} times the picture’s diagonal outside of it: the grain of a table or of metal was probably read instead of marks`,
    'photo',
    'give the shaft’s centre with --centre, say --rig mirror if the marks stand in a row, or photograph the paper alone',
  )
}

/** Farther apart than this share of the marks' radius is no slip of a hand that points (1.2 %), nor a hub seen aslant (some 5 %). */
const ASTRAY = 0.25
/** Where they aim instead is worth telling when it is known to this share of that. */
const KNOWN = 0.3

/**
 * A centre that was given where the marks read with it do not aim, beyond doubt and by far: neither is to be believed over the other,
 * and which lines are marks hangs on it. Null when they agree or none was given.
 */
export const centreAstray = ({ centre: { centre, covariance, used, setAside }, map, marks }: Pick<Dial, 'centre' | 'map' | 'marks'>): Unmeasurable | null => {
  const given = [...used, ...setAside].find(({ from }) => from === 'given')
  if (given === undefined) return null
  const others = setAside.includes(given) ? [{ centre, covariance }] : setAside.filter(({ from }) => from === 'strokes' || from === 'turn')
  const [away] = others.filter((other) => Math.hypot(other.centre[0] - given.centre[0], other.centre[1] - given.centre[1]) > ASTRAY * radiusOf(marks))
  if (away === undefined) return null
  const [xx, , yy] = away.covariance
  const isKnown = Math.sqrt((xx + yy) / 2) < KNOWN * ASTRAY * radiusOf(marks)
  const place = isKnown ? `: by themselves they meet near ${toPhoto(map, away.centre).map(Math.round).join(', ')} px` : ''
  return unmeasurable(`the marks do not aim at the centre that was given${place}`, 'photo', 'correct --centre (x,y in px of the upright photo), or leave it out')
}

/** Where nothing was read on a printed sheet, that the sheet itself was recognised, so that a person looks for the marks and not for the sheet. */
export const noTraceOnSheet = ({ what, where }: Unmeasurable): Unmeasurable =>
  unmeasurable(`the printed sheet was recognised, but no trace on it: ${what}`, where, 'if it has marks, draw over those that are faint with a dark pen and take a sharper photo of the whole sheet; if it has none yet, mark every rest position first')
