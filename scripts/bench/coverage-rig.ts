// How often the interval of N_eff holds the truth on a wall trace whose lengths are themselves uncertain (simulated).
// Usage: node scripts/run.mjs scripts/bench/coverage-rig.ts [traces per case, 1000] [seed, 1] [only cases that begin so]
import { effectiveCount } from '#core/figures/effective-microsteps'
import { positionErrors } from '#core/figures/position-errors'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { mean } from '#core/numeric/moments'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

interface Case {
  readonly name: string
  /** Standard uncertainties, mm; null: the foot is not stated. */
  readonly distanceU: number
  readonly footU: number | null
  /** Amplitude of the motor's order 4, microsteps. */
  readonly wave: number
}

const cases: readonly Case[] = [
  { name: 'lengths known', distanceU: 0, footU: 0, wave: 0.4 },
  { name: 'distance ± 2 mm, foot ± 8 mm', distanceU: 2, footU: 8, wave: 0.4 },
  { name: 'distance ± 6 mm, foot ± 8 mm', distanceU: 6, footU: 8, wave: 0.4 },
  { name: 'distance ± 20 mm, foot ± 8 mm, nearly even', distanceU: 20, footU: 8, wave: 0.1 },
  { name: 'foot unknown', distanceU: 6, footU: null, wave: 0.4 },
  { name: 'foot unknown, even', distanceU: 6, footU: null, wave: 0 },
]

const [traces = 1000, seed = 1] = process.argv.slice(2, 4).map(Number)
const only = process.argv[4] ?? ''
const [commands, microsteps, microstepDeg] = [160, 16, 0.1125]
const uDeg = 0.3 * microstepDeg
const radians = Math.PI / 180

const run = ({ name, distanceU, footU, wave }: Case): Record<string, string> => {
  const random = seededRandom(seed)
  const rests = Array.from({ length: commands + 1 }, (_, k) => microstepDeg * (k + wave * Math.sin((2 * Math.PI * k) / microsteps + 0.3)))
  const truth = effectiveCount(microsteps, mean(positionErrors(rests, microstepDeg).slice(1).map((e) => e * e)), 0, microstepDeg)
  let held = 0
  let width = 0
  for (let trace = 0; trace < traces; trace++) {
    const distance = 1520 + distanceU * normal(random)
    const foot = 210 + (footU ?? 0) * normal(random)
    // A foot nobody measured lies somewhere within the trace.
    const start = footU === null ? -18 * random() : -4
    const rows = rests.map((rest) => (foot + distance * Math.tan(2 * (start + rest + uDeg * normal(random)) * radians)).toFixed(5))
    const head = ['# steps-per-rev: 200', '# microsteps: 16', '# rig: mirror', `# mark-uncertainty: ${uDeg.toFixed(6)} deg`, `# distance: 1520 ± ${distanceU} mm`, ...(footU === null ? [] : [`# foot: 210 ± ${footU} mm`])]
    const read = readTrace([...head, ...rows].join('\n'))
    const result = isUnmeasurable(read) ? read : measure(read, { cause: false })
    if ('kind' in result) throw new Error(result.what)
    const { low, high } = result.figures.effectiveMicrosteps
    if (low <= truth + 1e-9 && truth <= high + 1e-9) held++
    width += (high - low) / traces
  }
  return { case: name, 'N_eff': truth.toFixed(3), covered: `${((100 * held) / traces).toFixed(1)} %`, 'mean width': width.toFixed(2) }
}

console.table(cases.filter(({ name }) => name.startsWith(only)).map(run))
