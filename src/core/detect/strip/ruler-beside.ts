import type { Raster } from '#core/detect/raster'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import { medianOrZero } from '#core/numeric/median'
import type { Ruler } from './find-ruler.ts'
import type { StripMark } from './strip-marks.ts'
import { tickWaves } from './tick-wave.ts'
import { waveRuler } from './wave-ruler.ts'

/** So far beyond the row, in shares of its length, and beside it, in half lengths of its marks, a ruler is looked for. */
const FARTHER = 0.25
const BESIDE = 8

/** A ruler too fine to have its ticks seen one by one, near a row of marks: the one with the most ticks; null where there is none. */
export const rulerBeside = (raster: Raster, marks: readonly StripMark[]): Ruler | null => {
  const ends = marks.map(({ fit: { model } }) => centreLineAt(model, 0)).sort((p, q) => p[0] - q[0] || p[1] - q[1])
  const [first, last] = [ends[0], ends[ends.length - 1]]
  if (first === undefined || last === undefined || first === last) return null
  const length = Math.hypot(last[0] - first[0], last[1] - first[1])
  const half = medianOrZero(marks.map(({ fit: { model } }) => model.halfLength))
  const line = { origin: first, along: [(last[0] - first[0]) / length, (last[1] - first[1]) / length] as const }
  const places = [-FARTHER * length, (1 + FARTHER) * length] as const
  const rulers = tickWaves(raster, line, places, [[-BESIDE * half, -half], [half, BESIDE * half]]).flatMap((wave) => waveRuler(raster, wave) ?? [])
  return rulers.sort((a, b) => b.ticks.length - a.ticks.length)[0] ?? null
}
