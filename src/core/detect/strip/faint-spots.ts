import { greyAt } from '#core/detect/grey-at'
import type { Point, Raster } from '#core/detect/raster'
import { fitLine } from '#core/numeric/fit-line'
import { median, robustSpread } from '#core/numeric/median'
import type { Spot } from './find-spots.ts'

/** A faint spot is this many times as dark as paper varies by, and this share of the row's usual one. */
const ABOVE_GRAIN = 5
const FAINTEST = 0.1
/** The row wanders by so many times its spread, and by half a spot at least. */
const WANDERS = 3
/** Beyond both ends spots are looked for as far as so many usual gaps. */
const BEYOND = 2
/** So many px of its neighbour are blurred; a line is as dark as this share of a spot's middle so far above or below it. */
const BLUR = 1.5
const LINE = 0.5
const ASIDE = 2.5
const RING = 16

/** How much darker a disc is than what is about it, grey levels. */
const darker = (raster: Raster, [x, y]: Point, radius: number): number => {
  const reach = Math.floor(radius)
  let [sum, count] = [0, 0]
  for (let dy = -reach; dy <= reach; dy++) {
    for (let dx = -reach; dx <= reach; dx++) {
      if (dx * dx + dy * dy > radius * radius) continue
      sum += greyAt(raster, [x + dx, y + dy])
      count++
    }
  }
  const about = Array.from({ length: RING }, (_, n) => greyAt(raster, [x + (radius + 2.5) * Math.cos((2 * Math.PI * n) / RING), y + (radius + 2.5) * Math.sin((2 * Math.PI * n) / RING)]))
  return median(about) - sum / count
}

/**
 * Spots on the line of a row that are too faint, or too small, to be seen before the row was known.
 * @param known the row's own, and what is no spot for its size
 * @param place whether a mark may lie there, px
 */
export const faintSpots = (raster: Raster, spots: readonly Spot[], known: readonly Spot[], place: (px: Point) => boolean): Spot[] => {
  const line = fitLine(spots.map((s) => s.middle))
  if (line === null) return []
  const { point: [px, py], direction: [ux, uy] } = line
  const at = (t: number, s: number): Point => [px + t * ux - s * uy, py + t * uy + s * ux]
  const along = spots.map(({ middle: [x, y] }) => (x - px) * ux + (y - py) * uy).sort((a, b) => a - b)
  const aside = spots.map(({ middle: [x, y] }) => (y - py) * ux - (x - px) * uy)
  const radius = Math.sqrt(median(spots.map((s) => s.area)) / Math.PI)
  const gap = median(along.slice(1).map((t, i) => t - (along[i] as number)))
  const reach = Math.max(radius / 2, WANDERS * robustSpread(aside, 0))
  const step = Math.max(1, radius / 3)
  const [from, to] = [(along[0] as number) - BEYOND * gap, (along[along.length - 1] as number) + BEYOND * gap]
  const seen = Array.from({ length: Math.ceil((to - from) / step) }, (_, i) => from + i * step).flatMap((t) =>
    Array.from({ length: 2 * Math.ceil(reach / step) + 1 }, (_, j) => {
      const s = (j - Math.ceil(reach / step)) * step
      return { t, s, dark: darker(raster, at(t, s), radius) }
    }).filter((c) => Number.isFinite(c.dark)),
  )
  const isFree = (p: Point, others: readonly Spot[]): boolean => others.every(({ middle: [x, y], halfPx }) => Math.hypot(x - p[0], y - p[1]) > halfPx + radius + BLUR)
  const open = seen.filter((c) => isFree(at(c.t, c.s), known))
  if (open.length === 0) return []
  const level = median(open.map((c) => c.dark))
  const usual = median(spots.map((s) => darker(raster, s.middle, radius))) - level
  const least = level + Math.max(ABOVE_GRAIN * robustSpread(open.map((c) => c.dark), level), FAINTEST * usual)
  const isSpot = ({ t, s, dark }: { readonly t: number; readonly s: number; readonly dark: number }): boolean =>
    [-ASIDE, ASIDE].every((off) => !(darker(raster, at(t, s + off * radius), radius) - level > LINE * (dark - level)))
  const found: Spot[] = []
  for (const c of open.filter((some) => some.dark > least).sort((a, b) => b.dark - a.dark)) {
    const middle = at(c.t, c.s)
    if (isFree(middle, found) && place(middle) && isSpot(c)) found.push({ middle, halfPx: radius, area: Math.PI * radius * radius, moments: [radius, 0, radius] })
  }
  return found
}
