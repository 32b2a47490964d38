import { scaleBarMm } from '#core/detect/sheet/sheet-version'
import type { Shape } from './shape.ts'
import type { Place } from '#core/detect/sheet/page-size'

const inchMm = 25.4
const inches = 4
const tickWidth = 0.15

const tick = (x: number, y: number, height: number): Shape => ({
  kind: 'line',
  role: 'scale-bar',
  from: [x, y],
  to: [x, y - height],
  width: tickWidth,
  tone: 0,
})

const words = (x: number, y: number, text: string, anchor: 'start' | 'middle' | 'end'): Shape => ({
  kind: 'text',
  role: 'text',
  at: [x, y],
  size: 2.2,
  anchor,
  text,
  tone: 0,
})

/** A bar from tick to tick: its length runs between the middles of the end ticks. */
const bar = (left: number, y: number, length: number, divisions: number): readonly Shape[] => [
  { kind: 'line', role: 'scale-bar', from: [left - tickWidth / 2, y], to: [left + length + tickWidth / 2, y], width: 0.2, tone: 0 },
  ...Array.from({ length: divisions + 1 }, (_, n) => tick(left + (length * n) / divisions, y, n === 0 || n === divisions ? 3 : 1.6)),
]

const advice =
  `Check with a ruler: this bar is ${scaleBarMm} mm long when printed at 100 %. If not, print anew or enter what the ruler says.`

/** The millimetre bar over the inch bar, with what to do with them. `middle` is the middle of their box, sheet mm. */
export const scaleBarShapes = ([x, y]: Place): readonly Shape[] => {
  const left = x - scaleBarMm / 2
  const [upper, lower] = [y + 0.1, y + 5.4]
  return [
    words(x, y - 3.6, advice, 'middle'),
    ...bar(left, upper, scaleBarMm, 10),
    ...bar(left, lower, inches * inchMm, inches * 8),
    words(left + 0.8, upper + 2.4, '0', 'start'),
    words(left + scaleBarMm - 0.4, upper + 2.4, `${scaleBarMm} mm`, 'end'),
    words(left + inches * inchMm + 0.8, lower, `${inches} in`, 'start'),
  ]
}
