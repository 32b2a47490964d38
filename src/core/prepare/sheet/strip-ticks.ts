import type { Shape } from './shape.ts'
import { type Box, bandHalfMm } from '#core/detect/sheet/zone'

const lengthOf = (mm: number): number => (mm % 10 === 0 ? 4.5 : mm % 5 === 0 ? 3.2 : 2)

/** Height that the ticks and their numbers take beyond the band, mm. */
export const tickRoomMm = 9

const numberSize = 2.2
/** Half of a number's width and a little bare paper beside it, mm: a digit of the printer's Helvetica is 0.556 of its size wide. */
const numberReach = (mm: number): number => (0.556 * numberSize * String(mm).length) / 2 + 0.3

/** Where a tick's number stands: under the tick, or so far beside it that a cut leaves it whole. */
const numberPlace = (mm: number, { left, right }: Pick<Box, 'left' | 'right'>, stripMm: number): number => {
  if (left > 0 && mm - numberReach(mm) < left) return left + numberReach(mm)
  return right < stripMm && mm + numberReach(mm) > right ? right - numberReach(mm) : mm
}

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
      { kind: 'text', role: 'tick', at: [numberPlace(mm, { left, right }, stripMm), bandHalfMm + 8.4], size: numberSize, anchor: 'middle', text: String(mm), tone: 0.3 },
    ]
  })
}
