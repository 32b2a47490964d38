import type { Hints } from '#core/detect/detection'
import { toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { usablePlace } from '#core/detect/usable'
import { leftOut } from './overlooked.ts'
import type { Strip } from './read-strip.ts'

/** Fewer marks do not tell what is usual; dots and crosses are looked for by themselves. */
const LEAST = 5

/** Where a place is, by the numbers of the marks beside it. */
const among = (before: number, count: number): string => (before === 0 ? 'before mark 1' : before === count ? `after mark ${count}` : `between marks ${before} and ${before + 1}`)

const list = (items: readonly string[]): string => (items.length > 4 ? `${items.slice(0, 4).join('; ')}; and ${items.length - 4} more` : items.join('; '))

/** The doubt about what stands in the row like a mark and was not read: too faint, or beyond what was taken for the paper's edge. Without any, nothing. */
export const leftOutDoubts = (raster: Raster, { marks, surface, along }: Strip, hints: Hints): string[] => {
  if (marks.length < LEAST || marks.some((m) => m.kind === 'spot')) return []
  const usable = usablePlace({ ...surface, outline: null }, hints)
  const placeOf = (px: Point): number => {
    const [x, y] = toPlane(surface.map, px)
    return x * along[0] + y * along[1]
  }
  const left = leftOut(raster, marks, surface.map, along)
    .filter(({ model }) => usable(model.middle))
    .map(({ model, share }) => ({ model, share, before: marks.filter((m) => m.place < placeOf(model.middle)).length }))
    .sort((a, b) => a.before - b.before)
  const names = left.map(({ model: { middle }, share, before }) => `${among(before, marks.length)} (at ${middle.map(Math.round).join(',')}, ${share.toFixed(1)} times as dark as most)`)
  const [what, it] = left.length === 1 ? ['a mark was', 'it'] : [`${left.length} marks were`, 'them']
  return left.length === 0 ? [] : [`what may be ${what} not read: ${list(names)}; look there, and add ${it} to the marks file or take the photo from nearer, in better light`]
}
