import type { Hints } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { readNumber } from '#core/quantity/read-number'

/** Two places of the photo that a hand has drawn between: opposite corners of a box, or the ends of a known distance. Photo px. */
export interface Drawn {
  readonly from: Point
  readonly to: Point
}

type Box = NonNullable<Hints['ignorePx']>[number]

/** The box between two opposite corners, whole px. */
export const boxOf = ({ from: [ax, ay], to: [bx, by] }: Drawn): Box => ({
  x: Math.round(Math.min(ax, bx)),
  y: Math.round(Math.min(ay, by)),
  width: Math.round(Math.abs(bx - ax)),
  height: Math.round(Math.abs(by - ay)),
})

const four = (text: string): readonly [number, number, number, number] | null => {
  const values = text.split(/[\s,;]+/).filter(Boolean).map((part) => readNumber(part))
  const [a, b, c, d] = values
  return values.length === 4 && a != null && b != null && c != null && d != null ? [a, b, c, d] : null
}

/** How each way of drawing is written as text, for those who would rather type: corner, width and height of a box; two places. */
export const drawnText = {
  box: (drawn: Drawn): string => { const { x, y, width, height } = boxOf(drawn); return [x, y, width, height].join(', ') },
  distance: ({ from, to }: Drawn): string => [...from, ...to].map(Math.round).join(', '),
} as const

/** The same read back; null when it is not four numbers, or nothing is between them. */
export const readDrawn = {
  box: (text: string): Drawn | null => {
    const [x, y, width, height] = four(text) ?? [0, 0, 0, 0]
    return width > 0 && height > 0 ? { from: [x, y], to: [x + width, y + height] } : null
  },
  distance: (text: string): Drawn | null => {
    const [ax, ay, bx, by] = four(text) ?? [0, 0, 0, 0]
    return Math.hypot(bx - ax, by - ay) > 1 ? { from: [ax, ay], to: [bx, by] } : null
  },
} as const
