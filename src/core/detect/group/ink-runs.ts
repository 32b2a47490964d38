import { toPhoto } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { greyAt } from '#core/detect/grey-at'
import type { Ring, View } from '#core/detect/dial/left-round'
import { seenWidth } from '#core/detect/stroke/stroke-model'
import type { GroupFrame } from './stroke-group.ts'
import { mean } from '#core/numeric/moments'

/** An unbroken piece of inked ring: where it is and how wide its ink is to either side, px. */
export interface InkRun {
  readonly frame: GroupFrame
  readonly extent: number
}

/** Darkness, as a share of the usual mark's, from which on a bearing is inked. */
const INKED = 0.3
const PLACES = 10
/** Darkest and palest of the places that do not count. */
const ASIDE = 3
/** A longer run is cut at its palest places; in seen widths of a stroke. */
const LONGEST = 5.5
/** Room for the paper on either side, px beyond the blur. */
const MARGIN = 1.5

interface Sampled {
  /** Bearing step, rad. */
  readonly step: number
  /** Darkness over the usual mark's. */
  readonly dark: readonly number[]
}

const pointAt = ({ map }: View, { centre }: Ring, angle: number, r: number): Point => toPhoto(map, [centre[0] + r * Math.cos(angle), centre[1] - r * Math.sin(angle)])

/** Mean of the values that are left when the darkest and the palest are set aside. */
const middleMean = (values: readonly number[]): number => mean([...values].sort((a, b) => a - b).slice(ASIDE, values.length - ASIDE))

/** Darkness round the ring over the radii that most marks cover; a line that goes round, as of a compass, is dark at few of them. */
const sampleRing = (view: View, ring: Ring, paper: (angle: number) => number): Sampled => {
  const middle = (ring.inner + ring.outer) / 2
  const [a, b] = [pointAt(view, ring, ring.from, middle), pointAt(view, ring, ring.from + 0.01, middle)]
  const step = 0.01 * (0.5 / Math.max(1e-9, Math.hypot(a[0] - b[0], a[1] - b[1])))
  const dark = Array.from({ length: Math.ceil(ring.span / step) }, (_, i) => {
    const angle = ring.from + i * step
    const across = Array.from({ length: PLACES }, (_k, k) => {
      const grey = greyAt(view.raster, pointAt(view, ring, angle, ring.inner + ((k + 0.5) / PLACES) * (ring.outer - ring.inner)))
      return Number.isNaN(grey) ? 0 : paper(angle) - grey
    })
    return middleMean(across) / ring.amplitude
  })
  return { step, dark }
}

type Piece = readonly [from: number, to: number]

/** Longer than so many of the longest runs, and nowhere in it as pale as this share of a mark: no strokes side by side, but a coin, a shaft's body or a hand. */
const MANY = 1.5
const SOLID = 0.6

const isSolid = (dark: readonly number[], [from, to]: Piece, most: number): boolean =>
  to - from > MANY * most && dark.slice(from + Math.floor(most / 3), to - Math.floor(most / 3)).every((d) => d > SOLID)

/** Broader than so many strokes as seen, even to this share from edge to edge, and paler than this share of a mark: several strokes would be darker than one, and uneven. */
const BROAD = 2.5
const EVEN = 0.15
const PALE = 0.75
/** What lies aslant fades in towards its ends: over so much of its width, if that is more than a blurred stroke does. */
const SLANT = 0.15

const isPlain = (dark: readonly number[], [from, to]: Piece, seen: number): boolean => {
  if (to - from < BROAD * seen) return false
  const end = Math.ceil(Math.max(0.75 * seen, SLANT * (to - from)))
  const inside = dark.slice(from + end, to - end)
  const darkest = Math.max(...inside)
  return darkest < PALE && darkest - Math.min(...inside) < EVEN * darkest
}

/** Cuts a piece at its palest inner place until none is longer than `most` samples. */
const cut = (dark: readonly number[], [from, to]: Piece, most: number): Piece[] => {
  if (to - from <= most) return [[from, to]]
  const margin = Math.floor(most / 3)
  let palest = from + margin
  for (let i = from + margin; i < to - margin; i++) if ((dark[i] as number) < (dark[palest] as number)) palest = i
  return [...cut(dark, [from, palest], most), ...cut(dark, [palest, to], most)]
}

const inkedPieces = ({ dark }: Sampled): Piece[] => {
  const pieces: Piece[] = []
  let from = -1
  for (let i = 0; i <= dark.length; i++) {
    const inked = (dark[i] ?? 0) > INKED
    if (inked && from < 0) from = i
    if (!inked && from >= 0) {
      pieces.push([from, i])
      from = -1
    }
  }
  return pieces
}

/**
 * The inked pieces of the ring, each with the frame to read it in.
 * @param reach inner and outer radius that any mark covers, plane units
 * @param paper brightness of the paper at a bearing, grey levels
 */
export const inkRuns = (view: View, ring: Ring, [inner, outer]: readonly [number, number], paper: (angle: number) => number): InkRun[] => {
  const pen = { halfWidth: ring.halfWidthPx, sigma: ring.sigmaPx }
  const sampled = sampleRing(view, ring, paper)
  const most = Math.ceil((LONGEST * seenWidth(pen)) / 0.5)
  const shaft = toPhoto(view.map, ring.centre)
  return inkedPieces(sampled).filter((piece) => !isSolid(sampled.dark, piece, most) && !isPlain(sampled.dark, piece, most / LONGEST)).flatMap((piece) => cut(sampled.dark, piece, most)).map(([from, to]): InkRun => {
    const angle = ring.from + ((from + to - 1) / 2) * sampled.step
    const [a, b] = [pointAt(view, ring, angle, inner), pointAt(view, ring, angle, outer)]
    const length = Math.hypot(b[0] - a[0], b[1] - a[1])
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
    const extent = (to - from) * 0.25
    return {
      frame: { middle, along: [(b[0] - a[0]) / length, (b[1] - a[1]) / length], halfLength: length / 2, radius: Math.hypot(middle[0] - shaft[0], middle[1] - shaft[1]), reach: extent + 2 * ring.sigmaPx + MARGIN },
      extent,
    }
  })
}

/** Does a place, px, lie in a run's ink? */
export const within = ({ frame, extent }: InkRun, [x, y]: Point): boolean => {
  const dx = x - frame.middle[0]
  const dy = y - frame.middle[1]
  return Math.abs(dx * frame.along[0] + dy * frame.along[1]) < frame.halfLength && Math.abs(dy * frame.along[0] - dx * frame.along[1]) <= extent
}
