import type { Stretch } from './envelope.ts'
import type { PlotFrame } from './plot-frame.ts'
import { px } from './svg.ts'

type Place = (stretch: Stretch) => string

/** Outline of a band that runs through the extremes of stretches; x of value i is i + first. */
export const bandPath = (stretches: readonly Stretch[], { atX, atY }: PlotFrame, first: number): string => {
  const at = (value: keyof Pick<Stretch, 'low' | 'high'>): Place => (stretch) => `${px(atX((stretch.from + stretch.to) / 2 + first))} ${px(atY(stretch[value]))}`
  if (stretches.length === 0) return ''
  return `M${stretches.map(at('high')).join('L')}L${stretches.toReversed().map(at('low')).join('L')}Z`
}

/** One upright bar per stretch from its lowest to its highest. */
export const barsPath = (stretches: readonly Stretch[], { atX, atY }: PlotFrame, first: number): string =>
  stretches
    .filter(({ low, high }) => high > low)
    .map(({ from, to, low, high }) => `M${px(atX((from + to) / 2 + first))} ${px(atY(low))}V${px(atY(high))}`)
    .join('')

/** A line through values in order; gaps where a value is missing. */
export const linePath = (values: readonly (number | null)[], { atX, atY }: PlotFrame, first: number): string => {
  let open = false
  return values
    .map((value, i) => {
      if (value === null) {
        open = false
        return ''
      }
      const step = `${open ? 'L' : 'M'}${px(atX(i + first))} ${px(atY(value))}`
      open = true
      return step
    })
    .join('')
}
