import { mapDoubt, UNKNOWN_TILT_DEG } from '#core/detect/bearing-doubts'
import { type PlaneMap, toPhoto } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { isOpen, type Surface } from '#core/detect/surface'
import { evenTurn } from './even-turn.ts'
import type { EvenTurn } from './fit-turn.ts'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { inkCentroid } from './mark-bearing.ts'

const DEG = 180 / Math.PI

/** What a paper's own doubt leaves out, rad of stretch, and in what share of photos (common practice, no source). */
interface LeftOut {
  readonly doubt: (own: number) => number
  readonly chance: number
}

/** A lens far out of the usual. */
const RARE_LENS: LeftOut = { doubt: (own) => 4 * own, chance: 0.1 }
/** A size that was guessed: A5 (148 × 210 mm, ISO 216) is 0.33 % longer for its width than A4, and bends angles by half of that. */
const OTHER_SIZE: LeftOut = { doubt: (own) => Math.hypot(own, 0.0016), chance: 0.3 }
/** Something else altogether, as an edge that is not the paper's: as much as a tilt of 25° bends angles, tan²(12.5°). */
const ELSE: LeftOut = { doubt: () => 0.05, chance: 0.001 }
/** A lesser share of what the turn tells is not worth the doubt. */
const LEAST_SHARE = 0.05

/** What paper and turn tell together: the turn's stretch, weighted down as the paper, which has none, is the surer of the two. */
const together = (turn: EvenTurn, own: number, leftOut: readonly LeftOut[]): EvenTurn | null => {
  const square = turn.stretch[0] ** 2 + turn.stretch[1] ** 2
  const known = { doubt: own, chance: 1 - leftOut.reduce((sum, { chance }) => sum + chance, 0) }
  const cases = [known, ...leftOut.map(({ doubt, chance }) => ({ doubt: doubt(own), chance }))].map((one) => {
    const variance = one.doubt ** 2 + turn.uStretch ** 2
    return { share: one.doubt ** 2 / variance, variance: (one.doubt * turn.uStretch) ** 2 / variance, weight: (one.chance / variance) * Math.exp(-square / (2 * variance)) }
  })
  const total = cases.reduce((sum, { weight }) => sum + weight, 0)
  const mean = (of: (one: (typeof cases)[number]) => number): number => cases.reduce((sum, one) => sum + (one.weight / total) * of(one), 0)
  const share = mean((one) => one.share)
  if (!(share > LEAST_SHARE)) return null
  return { ...turn, told: share, stretch: [share * turn.stretch[0], share * turn.stretch[1]], uStretch: Math.sqrt(mean((one) => one.variance + ((one.share - share) ** 2 * square) / 2)) }
}

/** The even turn; its stretch as far as the paper leaves the perspective open. */
export const turnOf = (marks: readonly FittedMark[], map: PlaneMap, centre: Point, surface: Surface): EvenTurn | null => {
  const points = marks.map((m) => inkCentroid(m.fit, map))
  const open = isOpen(surface) || surface.guessed === true
  const turn = evenTurn(points, centre, open)
  // A turn that tells less of the tilt than is known of every camera tells only the centre.
  if (surface.by === 'none' && turn !== null && turn.uStretch * DEG > UNKNOWN_TILT_DEG) return evenTurn(points, centre, false)
  if (!open || surface.by === 'none') return turn
  if (turn === null) return surface.loose ? null : evenTurn(points, centre, false)
  const doubt = mapDoubt(points.map((p) => toPhoto(map, p)), toPhoto(map, centre), map, surface.alternatives) / DEG
  return together(turn, doubt, [surface.loose ? RARE_LENS : OTHER_SIZE, ELSE]) ?? evenTurn(points, centre, false)
}
