import { extremes } from '#core/numeric/moments'
import { plainNumber } from '#core/report/number-text'
import { palette } from '#core/report/palette'
import { expandedErrorU, microstepDegOf, movesOf } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { axisOf } from './axis.ts'
import { chart, type Figure } from './chart.ts'
import { envelopeOf, type Stretch } from './envelope.ts'
import { bandEntry, type LegendEntry, lineEntry, markerEntry, markers } from './marker.ts'
import type { PlotFrame } from './plot-frame.ts'
import { barsPath, bandPath, linePath } from './stretch-path.ts'
import { path } from './svg.ts'

/** More commands than this are drawn as an envelope. */
const mostSingle = 400

interface Drawn {
  readonly errors: readonly (number | null)[]
  readonly range: readonly Stretch[]
  readonly band: readonly Stretch[]
  readonly open: boolean
  /** Coverage factor of the band. */
  readonly factor: number
}

const drawnOf = (result: Result): Drawn => {
  const moves = movesOf(result)
  const u = moves.map((rest) => expandedErrorU(result, rest))
  const lows = moves.map(({ errorRangeDeg }) => errorRangeDeg[0])
  const highs = moves.map(({ errorRangeDeg }) => errorRangeDeg[1])
  return {
    errors: moves.map(({ errorDeg }) => errorDeg),
    range: envelopeOf(lows, highs, mostSingle),
    band: envelopeOf(lows.map((low, i) => low - (u[i] ?? 0)), highs.map((high, i) => high + (u[i] ?? 0)), mostSingle),
    open: result.assignment.jumpsUnknown,
    factor: result.uncertainty.coverageFactor,
  }
}

const singles = ({ errors, range, open }: Drawn, frame: PlotFrame): string => {
  const points = errors.flatMap((error, i) => (error === null ? [] : [[frame.atX(i + 1), frame.atY(error)] as const]))
  const bars = open ? path(barsPath(range, frame, 1), { stroke: palette.merged, 'stroke-width': 2 }) : ''
  return bars + path(linePath(errors, frame, 1), { stroke: palette.moved, 'stroke-width': 1.2 }) + markers('moved', points, errors.length > 120 ? 0.7 : 1)
}

const entriesOf = ({ open, factor }: Drawn, thinned: boolean): LegendEntry[] => [
  thinned ? lineEntry('lowest to highest error', palette.moved) : markerEntry('moved', open ? 'error if the jump came first' : 'position error'),
  bandEntry(`± U (coverage factor ${plainNumber(factor, 3)})`, palette.band),
  ...(open && !thinned ? [lineEntry('jump first to jump last', palette.merged)] : []),
]

/** Position error by command with its U band; where it is open when a run jumped, from the earliest to the latest. */
export const errorFigure = (result: Result): Figure => {
  const drawn = drawnOf(result)
  const commands = drawn.errors.length
  const thinned = commands > mostSingle
  const y = axisOf(Math.min(0, extremes(drawn.band.map(({ low }) => low))[0]), Math.max(0, extremes(drawn.band.map(({ high }) => high))[1]), { label: 'position error at the shaft, deg', rounded: true })
  const per = drawn.range[0] ? drawn.range[0].to + 1 : 1
  const note = `1 microstep = ${plainNumber(microstepDegOf(result))}°${thinned ? `; each column holds ${per} commands, lowest to highest` : ''}`
  return chart({ name: 'position-error', title: 'Position error by command', x: axisOf(0, commands, { label: 'command k, count', most: 10, whole: true }), y, entries: entriesOf(drawn, thinned), note }, (frame) => {
    const zero = path(`M${frame.area.left} ${frame.atY(0)}H${frame.area.right}`, { stroke: palette.nominal, 'stroke-dasharray': '2 3' })
    const band = path(bandPath(drawn.band, frame, 1), { fill: palette.band, 'fill-opacity': 0.2 })
    return band + zero + (thinned ? path(barsPath(drawn.range, frame, 1), { stroke: palette.moved, 'stroke-width': (0.8 * (frame.area.right - frame.area.left)) / drawn.range.length }) : singles(drawn, frame))
  })
}
