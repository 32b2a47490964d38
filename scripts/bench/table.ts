import Table from 'cli-table3'
import type { Summary } from './summary.ts'

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`
const digits = (value: number, count: number): string => (Number.isFinite(value) ? value.toFixed(count) : '–')

/** Prints the figures per class; angles in deg, on a strip positions in mm. */
export const printTable = (summaries: readonly Summary[], memory: { readonly peakMiB: number; readonly residentMiB: readonly number[] }): void => {
  const table = new Table({
    head: ['class', 'photos', 'refused', 'recall', 'precision', 'rms', '95 %', 'local rms', 'z', 'z robust', 'z whole', '× bound', 'count', 'wrong flagged', 'centre mm', 's CPU', 'rectified by'],
    style: { head: [], border: [] },
  })
  for (const s of summaries)
    table.push([
      s.difficulty, s.photos, s.refused, percent(s.recall), percent(s.precision), digits(s.rms, 4), digits(s.p95, 4), digits(s.localRms, 4),
      digits(s.normalised, 2), digits(s.normalisedRobust, 2), digits(s.normalisedWhole, 2), digits(s.boundRatio, 2), percent(s.countRight), percent(s.wrongFlagged),
      digits(s.centreMm, 3), digits(s.seconds, 2), s.rectifiedBy,
    ])
  console.log(table.toString())
  console.log(`Memory: peak ${memory.peakMiB.toFixed(0)} MiB; resident after each quarter of the photos ${memory.residentMiB.map((m) => m.toFixed(0)).join(', ')} MiB.`)
  console.log('rms, 95 %: against the ink after one common rotation (strip: mm, after one offset). local: once- and twice-per-turn terms taken out.')
  console.log('z: error / u, 1 when u is honest (mark alone; robust; with centre and rectification). × bound: the same against the Cramér–Rao bound, meant for clean and textured (straight strokes).')
}
