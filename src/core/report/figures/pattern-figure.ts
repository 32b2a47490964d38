import { extremes } from '#core/numeric/moments'
import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { axisOf, ticksBetween } from './axis.ts'
import { chart, type Figure } from './chart.ts'
import { bandEntry, markerEntry, markers } from './marker.ts'
import type { PlotFrame } from './plot-frame.ts'
import { bandPath, linePath } from './stretch-path.ts'
import { path, px, words } from './svg.ts'

const fullStepLines = (microsteps: number, { area, atX }: PlotFrame): string =>
  [0, 1, 2, 3, 4]
    .map((step) => path(`M${px(atX(step * microsteps))} ${area.top}V${area.bottom}`, { stroke: palette.limit, 'stroke-dasharray': '7 4' }) + words(`full step ${step}`, atX(step * microsteps), area.top - 5, { size: 10, fill: palette.quiet, anchor: step === 4 ? 'end' : 'start' }))
    .join('')

/** The position errors folded over one electrical cycle (four full steps): mean and spread per phase. */
export const patternFigure = (result: Result): Figure | null => {
  const period = result.repeatPattern.periods.find(({ commands }) => commands === 4 * result.motor.microsteps)
  const cycles = (result.rests.length - 1) / (period?.commands ?? 1)
  if (!period || cycles < 1) return null
  const closed = [...period.meanDeg, period.meanDeg[0] ?? 0]
  const spread = [...period.spreadDeg, period.spreadDeg[0] ?? null].map((value) => value ?? 0)
  const band = closed.map((value, i) => ({ from: i, to: i, low: value - (spread[i] ?? 0), high: value + (spread[i] ?? 0) }))
  const y = axisOf(Math.min(0, extremes(band.map(({ low }) => low))[0]), Math.max(0, extremes(band.map(({ high }) => high))[1]), { label: 'mean position error, deg', rounded: true })
  const n = result.motor.microsteps
  const x = { low: 0, high: period.commands, ticks: ticksBetween(0, period.commands, n % 4 === 0 ? n / 4 : n), decimals: 0, label: 'command within the electrical cycle, microsteps' }
  const entries = [markerEntry('moved', 'mean over the cycles'), bandEntry('± standard deviation from cycle to cycle', palette.band)]
  return chart({ name: 'repeat-pattern', title: 'Pattern folded over one electrical cycle', x, y, entries, note: `${Math.floor(cycles)} whole cycle${cycles < 2 ? '' : 's'} in the trace; one cycle is four full steps (360° electrical)` }, (frame) => {
    const points = closed.map((value, i) => [frame.atX(i), frame.atY(value)] as const)
    const zero = path(`M${frame.area.left} ${px(frame.atY(0))}H${frame.area.right}`, { stroke: palette.nominal, 'stroke-dasharray': '2 3' })
    return fullStepLines(result.motor.microsteps, frame) + path(bandPath(band, frame, 0), { fill: palette.band, 'fill-opacity': 0.2 }) + zero + path(linePath(closed, frame, 0), { stroke: palette.moved, 'stroke-width': 1.4 }) + markers('moved', points)
  })
}
