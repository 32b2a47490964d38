import { palette } from '#core/report/palette'
import type { RestKind } from '#core/report/rest-kind'
import { path, px, words } from './svg.ts'

/** Everything that is told apart by a shape. */
export type MarkerKind = RestKind | 'missing'

type Outline = (x: number, y: number, r: number) => string

const disc: Outline = (x, y, r) => `M${px(x - r)} ${px(y)}a${px(r)} ${px(r)} 0 1 0 ${px(2 * r)} 0a${px(r)} ${px(r)} 0 1 0 ${px(-2 * r)} 0`
const square: Outline = (x, y, r) => `M${px(x - r)} ${px(y - r)}h${px(2 * r)}v${px(2 * r)}h${px(-2 * r)}z`
const triangle: Outline = (x, y, r) => `M${px(x - 1.2 * r)} ${px(y - r)}h${px(2.4 * r)}L${px(x)} ${px(y + 1.2 * r)}z`
const cross: Outline = (x, y, r) => `M${px(x - r)} ${px(y - r)}l${px(2 * r)} ${px(2 * r)}m${px(-2 * r)} 0l${px(2 * r)} ${px(-2 * r)}`

interface Look {
  readonly outline: Outline
  readonly colour: string
  readonly filled: boolean
  readonly r: number
}

/** Full dot: moved. Open square: merged. Solid triangle, point down: reversed. Cross: missing. Open dot: not judged. */
const looks: Readonly<Record<MarkerKind, Look>> = {
  moved: { outline: disc, colour: palette.moved, filled: true, r: 2.6 },
  merged: { outline: square, colour: palette.merged, filled: false, r: 3.8 },
  reversed: { outline: triangle, colour: palette.reversed, filled: true, r: 4.6 },
  missing: { outline: cross, colour: palette.missing, filled: false, r: 3.8 },
  unjudged: { outline: disc, colour: palette.nominal, filled: false, r: 2.6 },
}

/** All markers of one kind as a single path; points that fall on the same half pixel are drawn once. */
export const markers = (kind: MarkerKind, points: readonly (readonly [x: number, y: number])[], shrink = 1): string => {
  const { outline, colour, filled, r } = looks[kind]
  const drawn = new Set<number>()
  const parts: string[] = []
  for (const [x, y] of points) {
    const cell = Math.round(x * 2) * 65_536 + Math.round(y * 2)
    if (drawn.has(cell)) continue
    drawn.add(cell)
    parts.push(outline(x, y, r * shrink))
  }
  return path(parts.join(''), filled ? { fill: colour } : { stroke: colour, 'stroke-width': 1.5 })
}

/** Rough width of a text in DejaVu Sans, px: 0.6 of its size per character. */
export const widthOf = (text: string, size: number): number => text.length * size * 0.6

export interface LegendEntry {
  readonly text: string
  /** SVG drawn about a point. */
  readonly symbol: (x: number, y: number) => string
}

export const markerEntry = (kind: MarkerKind, text: string): LegendEntry => ({ text, symbol: (x, y) => markers(kind, [[x, y]], 1.2) })

export const lineEntry = (text: string, colour: string, dash?: string): LegendEntry => ({ text, symbol: (x, y) => path(`M${px(x - 10)} ${px(y)}h20`, { stroke: colour, 'stroke-width': 2, 'stroke-dasharray': dash }) })

export const bandEntry = (text: string, colour: string): LegendEntry => ({ text, symbol: (x, y) => path(`M${px(x - 10)} ${px(y - 5)}h20v10h-20z`, { fill: colour, 'fill-opacity': 0.25 }) })

/** Symbols with their words in a row from the left. */
export const legend = (entries: readonly LegendEntry[], left: number, y: number): string => {
  let x = left
  return entries
    .map(({ text, symbol }) => {
      const drawn = symbol(x + 10, y - 4) + words(text, x + 26, y, { size: 12 })
      x += 26 + widthOf(text, 12) + 22
      return drawn
    })
    .join('')
}
