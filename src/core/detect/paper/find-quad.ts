import { fitLine } from '#core/numeric/fit-line'
import { toFullResolution } from '#core/detect/plane'
import { inPicture, type Point, type Raster } from '#core/detect/raster'
import { depthInside } from '#core/detect/usable'
import { mean } from '#core/numeric/moments'
import { edgeQuads } from './edge-lines.ts'
import { brightOutlines, enclosingQuad, meet, polygonArea } from './outline.ts'
import { type EdgeSearch, type PaperEdge, traceEdge } from './edge.ts'
import { fallAcross } from './one-sided.ts'
import { cutLevels, reducePhoto, type SmallPicture } from './small-picture.ts'

export type Quad = readonly [Point, Point, Point, Point]

export interface PaperQuad {
  /** Clockwise as seen, px of the photo. */
  readonly corners: Quad
  /** edges[i] runs from corners[i] to corners[i + 1]. */
  readonly edges: readonly PaperEdge[]
  /** Mean share of the four sides that was really seen. */
  readonly support: number
}

const LEAST_AREA = 0.06

const clockwise = (quad: Quad): Quad => {
  const [a, b, c] = quad
  const turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
  return turn > 0 ? quad : ([quad[0], quad[3], quad[2], quad[1]] as const)
}

/** A quad of the reduced picture in the photo, clockwise as seen. */
const inPhoto = (small: Pick<SmallPicture, 'factor'>, quad: Quad): Quad => clockwise(quad.map((p) => toFullResolution(small, p)) as unknown as Quad)

/** Rough outlines at many brightness levels, each when it is asked for; near-copies left out. */
function* roughQuads({ columns, rows, factor, grey }: SmallPicture): Generator<Quad> {
  const quads: Quad[] = []
  for (const level of cutLevels(grey)) {
    for (const { hull, solidity } of brightOutlines(grey, [columns, rows], level, LEAST_AREA * grey.length)) {
      if (solidity < 0.75) continue
      const quad = enclosingQuad(hull)
      if (quad === null || polygonArea(hull) < 0.88 * polygonArea(quad)) continue
      const scaled = inPhoto({ factor }, quad)
      const near = (q: Quad): boolean => scaled.every((a) => q.some((b) => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1.5 * factor))
      if (quads.some(near)) continue
      quads.push(scaled)
      yield scaled
    }
  }
}

/** Distance by which a corner may lie outside the picture and the sheet still count as seen whole, as a share of its longer side. */
const OUTSIDE = 0.02

const sideLine = ({ points }: PaperEdge): readonly [Point, Point] | null => {
  const line = points.length < 8 ? null : fitLine(points)
  return line === null ? null : [line.point, [line.point[0] + line.direction[0], line.point[1] + line.direction[1]]]
}

/** Unit vector out of a sheet across one of its sides, which run clockwise as seen. */
export const outwardOf = ([from, to]: readonly [Point, Point]): Point => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  return [(to[1] - from[1]) / length, (from[0] - to[0]) / length]
}

/** A side across which brightness falls by less than this share of what it does across another is a fold, with more paper behind it (160 rendered sheets: 0.5 and more, folds less than 0.1). */
const FOLD = 0.2

/** Does paper end along all four edges? */
const isSheet = (raster: Raster, { corners, edges }: PaperQuad): boolean => {
  const falls = edges.map((edge, i) => fallAcross(raster, edge, outwardOf([corners[i] as Point, corners[(i + 1) % 4] as Point])) ?? 0)
  return Math.min(...falls) > FOLD * Math.max(...falls)
}

/** So far beyond a corner, as shares of a side, its line is looked at, at so many places, and goes on where this share of them shows it. */
const BEYOND = [0.02, 0.15] as const
const BEYOND_PLACES = 30
const GOES_ON = 0.7
/** Its line is known to so many px. */
const BEYOND_REACH = 6

/** Do both neighbours of some side go on beyond it? Then it is the edge of a shadow that lies across the paper. */
const endsInShadow = (raster: Raster, { corners }: PaperQuad): boolean => {
  const goesOn = (from: Point, to: Point, outward: Point): boolean => {
    const [a, b] = BEYOND.map((share): Point => [to[0] + share * (to[0] - from[0]), to[1] + share * (to[1] - from[1])]) as [Point, Point]
    const edge = traceEdge(raster, [a, b], outward, { reach: BEYOND_REACH, places: BEYOND_PLACES })
    return edge.support > GOES_ON && fallAcross(raster, edge, outward) !== null
  }
  return corners.some((_, i) => {
    const [before, from, to, after] = [3, 0, 1, 2].map((k) => corners[(i + k) % 4] as Point) as [Point, Point, Point, Point]
    return goesOn(before, from, outwardOf([before, from])) && goesOn(after, to, outwardOf([to, after]))
  })
}

const traceQuad = (raster: Raster, quad: Quad, search: EdgeSearch): PaperQuad | null => {
  const edges = quad.map((from, i) => {
    const to = quad[(i + 1) % 4] as Point
    return traceEdge(raster, [from, to], outwardOf([from, to]), search)
  })
  const lines = edges.map(sideLine)
  const corners = quad.map((_, i) => {
    const before = lines[(i + 3) % 4]
    const after = lines[i]
    return before === undefined || before === null || after === undefined || after === null ? null : meet(...before, ...after)
  })
  if (corners.some((c) => c === null || !inPicture(raster, c, OUTSIDE * Math.max(raster.width, raster.height)))) return null
  return { corners: corners as unknown as Quad, edges, support: edges.reduce((sum, e) => sum + e.support, 0) / 4 }
}

/** A region whose worst side is seen less completely than this may end at a shadow's edge instead of the paper's. */
const WHOLE_SIDE = 0.75
/** Sides seen this completely, in the shape of a sheet, need no comparison. */
const PLAIN = 0.97

/** What a side, and all four on average, must show to be believed. */
interface Demand {
  readonly least: number
  readonly mean: number
}

/** How good a quad is: its sides really seen, large, and of a shape that a sheet of paper can have in a photo. */
const worthOf = ({ corners, edges, support }: PaperQuad, misfit: number): number =>
  support * Math.min(...edges.map((e) => e.support)) * Math.sqrt(polygonArea(corners)) * Math.exp(-Math.min(misfit, 40) / 40)

const middleOf = (corners: Quad): Point => [mean(corners.map((p) => p[0])), mean(corners.map((p) => p[1]))]

interface Weighed {
  readonly quad: PaperQuad
  readonly worth: number
}

/** Places along a side that are enough to say about where it runs. */
const ROUGHLY = 45

const bestOf = (raster: Raster, quads: Iterable<Quad>, shapeMisfit: (corners: Quad) => number, demand: Demand): Weighed | null => {
  const long = Math.max(raster.width, raster.height)
  let best: Weighed | null = null
  for (const quad of quads) {
    const rough = traceQuad(raster, quad, { reach: 0.025 * long, places: ROUGHLY })
    if (rough === null || Math.min(...rough.edges.map((e) => e.support)) < 0.2) continue
    const fine = traceQuad(raster, rough.corners, { reach: 0.006 * long + 4 })
    if (fine === null || fine.support < demand.mean || Math.min(...fine.edges.map((e) => e.support)) < demand.least) continue
    if (!isSheet(raster, fine) || endsInShadow(raster, fine)) continue
    const misfit = shapeMisfit(fine.corners)
    if (Number.isNaN(misfit)) continue
    const worth = worthOf(fine, misfit)
    if (fine.support > PLAIN && misfit < 4) return { quad: fine, worth }
    if (best === null || worth > best.worth) best = { quad: fine, worth }
  }
  return best
}

/**
 * The paper's four sides, when all four corners are in the picture: a bright four-sided region at one of many brightness
 * levels, or else four straight edges that close around something paler; the sides then traced in the full photo.
 * @param misfitOf how unlike a sheet of paper four corners are, in units of variance
 * @param blank a sheet found before that bears nothing: another one is looked for
 * @returns null when nothing has four sides that can really be seen
 */
export const findPaperQuad = (raster: Raster, misfitOf: (corners: Quad) => number, blank: readonly Point[] | null = null): PaperQuad | null => {
  const shapeMisfit = (corners: Quad): number => (blank !== null && depthInside(blank, middleOf(corners)) > 0 ? Number.NaN : misfitOf(corners))
  const small = reducePhoto(raster)
  const bright = bestOf(raster, roughQuads(small), shapeMisfit, { least: 0.3, mean: 0.55 })
  if (bright !== null && Math.min(...bright.quad.edges.map((e) => e.support)) > WHOLE_SIDE) return bright.quad
  const edged = bestOf(raster, edgeQuads(small).map((quad) => inPhoto(small, quad)), shapeMisfit, { least: 0.5, mean: 0.7 })
  return [bright, edged].reduce((best, one) => (one !== null && (best === null || one.worth > best.worth) ? one : best), null)?.quad ?? null
}
