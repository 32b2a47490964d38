import type { Shape } from './shape.ts'
import { type Box, bandHalfMm } from './zone.ts'

const lengthOf = (mm: number): number => (mm % 10 === 0 ? 4.5 : mm % 5 === 0 ? 3.2 : 2)

/** Millimetre ticks of the strip along both sides of its marking band, pointing away from it, numbered every 10 mm. */
export const stripTicks = ({ left, right }: Box, stripMm: number): readonly Shape[] => {
  const first = Math.ceil(left - 1e-9)
  const last = Math.floor(Math.min(right, stripMm) + 1e-9)
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, n) => first + n).flatMap((mm): readonly Shape[] => {
    const pair = [-1, 1].map((side): Shape => {
      const y = side * (bandHalfMm + 0.5)
      return { kind: 'line', role: 'tick', from: [mm, y], to: [mm, y + side * lengthOf(mm)], width: 0.12, tone: 0.3 }
    })
    if (mm % 10 !== 0) return pair
    return [
      ...pair,
      { kind: 'text', role: 'tick', at: [mm, bandHalfMm + 8.4], size: 2.2, anchor: 'middle', text: String(mm), tone: 0.3 },
    ]
  })
}
