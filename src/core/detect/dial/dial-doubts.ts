import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { isBroad, type Likeness } from './judge-marks.ts'
import { pxPerUnitAt, turnBetween } from '#core/detect/plane-map'
import type { Dial } from './read-dial.ts'
import { seenWidth } from '#core/detect/stroke/stroke-model'
import type { Surface } from '#core/detect/surface'
import { twoRings } from './two-rings.ts'

/** No usual pen draws wider than this, mm (common practice, no source). */
const WIDEST_PEN_MM = 2

/** Are strokes of this width, px, more than a pen draws, and so several that the photo cannot tell apart? @param pixelsPerMm null when not known */
export const areBundles = (widthPx: number, pixelsPerMm: number | null): boolean => pixelsPerMm !== null && widthPx > WIDEST_PEN_MM * pixelsPerMm

/** Standard uncertainty of a rest that may lie anywhere across a bundle's ink, px: an even spread over its width. */
export const bundleDoubtPx = (widthPx: number): number => widthPx / Math.sqrt(12)

const DEG = 180 / Math.PI

/** What was seen of the marks together. */
export interface DialSeen {
  readonly like: Likeness
  /** Of a paper whose size was not said, as it would be were it the sheet its shape was taken for. */
  readonly pixelsPerMm: number | null
  /** Was the paper's size said? */
  readonly sized: boolean
  /** What a sheet that does not lie flat leaves in the angles, deg rms. */
  readonly bentDeg: number
  /** Bearings at which something lies over the ring and no mark was found, rad. */
  readonly covered: readonly number[]
}

/** Strokes that look wider than a pen draws are several that the photo cannot tell apart. */
const widthDoubts = (widthPx: number, { pixelsPerMm, sized }: DialSeen): string[] =>
  pixelsPerMm !== null && areBundles(widthPx, pixelsPerMm)
    ? [`most marks look ${(widthPx / pixelsPerMm).toFixed(1)} mm wide${sized ? '' : ', if the paper is the sheet its shape was taken for'}, more than a pen draws: each may be several that this photo cannot tell apart; photograph the ring from nearer, in parts if need be`]
    : []

/** Marks this many usual gaps from the pointer or nearer may have a neighbour under it. */
const BESIDE = 2.5

/** Neighbours nearer than this many widths, as seen, run into each other; where more than this share do, others may have been read as one. */
const CLOSE = 1.4
const MANY_CLOSE = 0.1

/** Marks at the limit of what the photo tells apart. */
const crowdedDoubts = ({ marks, map, together }: Dial): string[] => {
  const sorted = [...marks].sort((a, b) => a.bearing - b.bearing)
  const close = sorted.slice(1).filter(({ bearing, inner, outer, fit: { model } }, i) =>
    (bearing - (sorted[i] as FittedMark).bearing) * ((inner + outer) / 2) * pxPerUnitAt(map, model.middle) < CLOSE * seenWidth(model))
  return together > 0 || close.length <= MANY_CLOSE * marks.length ? [] : [`${close.length} of the ${marks.length} marks stand so close to the next that this photo hardly tells them apart: some may have been read as one; photograph the ring from nearer, in parts if need be`]
}

/** What the photo cannot show because something lies over it. */
const coverDoubts = ({ pointer, marks }: Dial): string[] => {
  if (pointer === null) return []
  const sorted = marks.map((m) => m.bearing).sort((p, q) => p - q)
  const gaps = sorted.slice(1).map((bearing, i) => bearing - (sorted[i] as number)).sort((p, q) => p - q)
  if (Math.min(...sorted.map((bearing) => Math.abs(turnBetween(bearing, pointer.bearing)))) > pointer.halfWidth + BESIDE * (gaps[gaps.length >> 1] as number)) return []
  const seen = (pointer.bearing * DEG + 360) % 360
  return [`something, perhaps the pointer, lies over the paper at ${seen.toFixed(0)}°: a mark under it or against its edge may not have been seen; take the pointer off for the photo, or add that mark by hand`]
}

/** What lies across the ring, the pointer that was told aside. */
const acrossDoubts = ({ pointer }: Dial, covered: readonly number[]): string[] => {
  const other = covered.filter((bearing) => pointer === null || Math.abs(turnBetween(bearing, pointer.bearing)) > 2 * pointer.halfWidth)
  if (other.length === 0) return []
  const places = other.map((bearing) => `${((bearing * DEG + 360) % 360).toFixed(0)}°`).join(', ')
  return [`something lies across the ring at ${places}: a mark under it may not have been seen; take it off for the photo, or add that mark by hand`]
}

/** Marks that are broader than most and alike, taken for marks drawn so. */
const broadDoubts = (marks: readonly FittedMark[], like: Likeness): string[] => {
  const broad = marks.filter((m) => isBroad(m, like))
  if (like.broad === null || broad.length === 0) return []
  return [`${broad.length} marks are about ${(like.broad.middle / like.width[0]).toFixed(1)} times as broad as most and alike: each is read as one mark drawn broader; give its commands in the marks file if one stands for several`]
}

/** Marks that only a joint fit told apart. */
const togetherDoubts = ({ together }: Dial): string[] =>
  together === 0 ? [] : [`${together} more marks were told apart only by fitting strokes that touch together: look at them on the overlay, and photograph the ring from nearer if they matter`]

/** What is doubtful about the centre and the perspective, with what to do. */
const rigDoubts = ({ turn, centre, surface: { by } }: Dial): string[] => [
  ...(by === 'none' && turn === null ? ['perspective was not removed and cannot be bounded from the marks: keep all four corners of the paper in view, or give them with --corners'] : []),
  ...(centre.setAside.length > 0 ? [`the centre told by the ${centre.setAside.map((c) => c.from).join(' and the ')} does not agree with the rest and was left out; check the cross on the overlay, or give --centre`] : []),
]

/** Edges bow beyond doubt from so many standard uncertainties and so many px on, where it costs the angles at least so much, deg. */
const BOWED = { uncertainties: 3, px: 0.5, deg: 0.02 } as const

/** A sheet that can be seen not to lie flat. */
export const flatDoubts = (bow: Surface['bow'], { pixelsPerMm, bentDeg }: Pick<DialSeen, 'pixelsPerMm' | 'bentDeg'>): string[] => {
  if (bow === undefined || bow.px < Math.max(BOWED.px, BOWED.uncertainties * bow.uPx) || bentDeg < BOWED.deg) return []
  const size = pixelsPerMm === null ? `${bow.px.toFixed(1)} px` : `${(bow.px / pixelsPerMm).toFixed(2)} mm`
  return [`the edges of the paper bow by ${size}: it does not lie flat, its edges were not cut straight, or the lens bends unlike most, and that leaves some ${bentDeg.toPrecision(1)}° in the angles; press it flat at its corners, or use the printed sheet`]
}

/** So few strokes may aim at one place by chance. */
const FEW = 4

const fewDoubts = ({ marks, centre }: Dial): string[] =>
  marks.length >= FEW || centre.used.some(({ from }) => from === 'given' || from === 'sheet') ? [] : [`only ${marks.length} marks were found: where so few lines meet may not be the shaft; look at the cross on the overlay, or give --centre. Fewer than twelve dots are not read as marks about a shaft: draw strokes`]

/** Marks of two scales, or of two runs on one paper, counted as one. */
const ringDoubts = ({ marks, dots }: Dial): string[] =>
  dots === true || twoRings(marks) === null ? [] : ['the marks lie on two rings, one outside the other, as on a dial with two scales or a paper used twice: read one of them alone with --radius-range']

/** Sentences about what is doubtful in a dial, each with what to do; nothing about how many marks there are. */
export const dialDoubts = (dial: Dial, seen: DialSeen): string[] => [
  ...fewDoubts(dial),
  ...dial.surface.doubts,
  ...flatDoubts(dial.surface.bow, seen),
  ...widthDoubts(seen.like.width[0], seen),
  ...ringDoubts(dial),
  ...coverDoubts(dial),
  ...acrossDoubts(dial, seen.covered),
  ...togetherDoubts(dial),
  ...crowdedDoubts(dial),
  ...broadDoubts(dial.marks, seen.like),
  ...rigDoubts(dial),
]
