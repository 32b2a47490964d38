import { plainNumber, valueAndU } from '#core/report/number-text'
import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { axisOf } from './axis.ts'
import { chart, type Figure } from './chart.ts'
import { lineEntry, markerEntry, markers } from './marker.ts'
import { path, px, words } from './svg.ts'

type Harmonic = Result['figures']['harmonics'][number]

const named = ({ order, about }: Harmonic): string => (about === 'turn' ? `${order} per turn (rig)` : `order ${order}`)

/** Amplitude of every wave searched for, electrical and of the turn, with ± 2 standard errors; null when none was fitted. */
export const harmonicFigure = (result: Result): Figure | null => {
  const waves = [...result.figures.harmonics, ...result.rigFaults.removed]
  if (waves.length === 0) return null
  const highest = Math.max(...waves.map(({ amplitudeDeg, standardErrorDeg }) => amplitudeDeg + 2 * standardErrorDeg))
  const y = axisOf(0, highest > 0 ? highest * 1.12 : 1, { label: 'amplitude, deg', rounded: true })
  const x = { low: 0, high: waves.length, ticks: [], decimals: 0, label: 'order, waves per electrical cycle (of four full steps) or per turn of the shaft' }
  const entries = [markerEntry('moved', 'significant'), markerEntry('unjudged', 'not significant'), lineEntry('± 2 standard errors', palette.limit)]
  return chart({ name: 'harmonics', title: 'Harmonics of the position error', x, y, entries, height: 380, note: result.rigFaults.removed.length > 0 ? 'waves per turn belong to the rig and were taken off before the figures' : '' }, ({ area, atX, atY }) =>
    waves
      .map((wave, i) => {
        const at = atX(i + 0.5)
        const { amplitudeDeg, standardErrorDeg, significant } = wave
        const stem = path(`M${px(at)} ${area.bottom}V${px(atY(amplitudeDeg))}`, { stroke: significant ? palette.moved : palette.nominal, 'stroke-width': 5, 'stroke-opacity': 0.45 })
        const whisker = path(`M${px(at)} ${px(atY(Math.max(0, amplitudeDeg - 2 * standardErrorDeg)))}V${px(atY(amplitudeDeg + 2 * standardErrorDeg))}`, { stroke: palette.limit, 'stroke-width': 1.5 })
        const value = words(`${valueAndU(amplitudeDeg, 2 * standardErrorDeg)}°`, at + 10, atY(amplitudeDeg) - 5, { size: 11 })
        return stem + whisker + markers(significant ? 'moved' : 'unjudged', [[at, atY(amplitudeDeg)]], 1.5) + value + words(named(wave) + (wave.halfSeen ? ` (at least ${plainNumber(amplitudeDeg, 2)}°)` : ''), at, area.bottom + 18, { anchor: 'middle', size: 12, fill: palette.quiet })
      })
      .join(''),
  )
}
