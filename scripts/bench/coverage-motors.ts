// How often the interval of N_eff holds the truth over random motors, rigs and lengths of trace, through the whole of `measure`
// (simulated). Two truths: of the commands marked, and of the motor over its electrical cycle with what it does not repeat.
// Usage: node scripts/run.mjs scripts/bench/coverage-motors.ts [traces, 2000] [seed, 1] [command | tally] [stated | unstated]
import { effectiveCount } from '#core/figures/effective-microsteps'
import { positionErrors } from '#core/figures/position-errors'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import { meanSquare } from '#core/numeric/moments'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const [traces = 2000, seed = 1] = process.argv.slice(2, 4).map(Number)
const [, , , , labels = 'command', said = 'stated'] = process.argv
const random = seededRandom(seed)
const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T
const radians = Math.PI / 180
const [radiusMm, distanceMm, footMm] = [200, 1500, 210]
/** Chords are from mark to mark, so that a tally of them is another trace; left out there. */
const rigs = (['pointer', 'arc', 'chord', 'mirror'] as const).filter((rig) => labels !== 'tally' || rig !== 'chord')
/** Widest angle a rig shows, deg at the shaft. */
const widest = { pointer: 359, arc: 90, chord: 90, mirror: 35 }

/** Smooth motors where every command is marked; leaping ones where commands share marks. */
const chooseMotor = (stepsPerRev: number, microsteps: number): RestModel => ({
  ...evenMotor(stepsPerRev, microsteps),
  ...(labels === 'tally' ? { detent2: 0.2 * random(), detent4: 0.25 + 0.4 * random() } : { detent4: 0.2 * random() }),
  detent4PhaseDeg: 360 * random(),
  imbalance: 0.2 * (random() - 0.5),
  offsetA: 0.1 * (random() - 0.5),
  offsetB: 0.1 * (random() - 0.5),
  friction: pick([0, 0.03, 0.08]),
  startPhaseDeg: pick([0, 45, 360 * random()]),
})

const settled = (motor: RestModel, last: number): number[] => [...simulateRests(motor, { commands: Array.from({ length: last + 1 }, (_, k) => k), settleCycles: 1 })]

/** Marks where the shaft had plainly moved since the last one, with how many commands ended there. */
const tallied = (written: readonly string[], rests: readonly number[], clearDeg: number): string[] => {
  const marks: { text: string; at: number; tally: number }[] = []
  rests.forEach((at, k) => {
    const last = marks.at(-1)
    if (last && at - last.at < clearDeg) last.tally++
    else marks.push({ text: written[k] ?? '', at, tally: k === 0 ? 0 : 1 })
  })
  return ['position,tally', ...marks.map(({ text, tally }) => `${text},${tally}`)]
}

const unit = (rig: keyof typeof widest): string[] => {
  if (rig === 'pointer') return []
  return ['# position-unit: mm', ...(rig === 'mirror' ? [`# distance: ${distanceMm} mm`, `# foot: ${footMm} mm`] : [`# radius: ${radiusMm} mm`])]
}

const write = (rig: keyof typeof widest, angles: readonly number[]): string[] => {
  const middle = (angles.at(-1) ?? 0) / 2
  const text = (angle: number, k: number): number => {
    if (rig === 'pointer') return angle + 10
    if (rig === 'arc') return angle * radians * radiusMm
    if (rig === 'mirror') return footMm + distanceMm * Math.tan(2 * (angle - middle) * radians)
    return 2 * radiusMm * Math.sin(((angle - (angles[k - 1] ?? angle)) * radians) / 2)
  }
  return angles.map((angle, k) => text(angle, k).toFixed(4))
}

const tally = new Map<string, { traces: number; marked: number; motor: number; width: number }>()
const count = (row: string, [marked, motor]: readonly boolean[], width: number): void => {
  const sum = tally.get(row) ?? { traces: 0, marked: 0, motor: 0, width: 0 }
  tally.set(row, { traces: sum.traces + 1, marked: sum.marked + Number(marked), motor: sum.motor + Number(motor), width: sum.width + width })
}

const run = (): void => {
  const [stepsPerRev, microsteps, rig] = [pick([24, 48, 200]), pick([4, 8, 16]), pick(rigs)] as const
  const microstep = 360 / stepsPerRev / microsteps
  const cycles = Math.min(pick([1, 1.3, 2, 2.5, 3, 3.6, 4.5, 6]), (widest[rig] * stepsPerRev) / 1440)
  const scatterDeg = pick([0, 0, 0.15]) * microstep
  const uDeg = pick([0.05, 0.1, 0.2]) * microstep
  const motor = chooseMotor(stepsPerRev, microsteps)
  const rests = settled(motor, Math.round(4 * microsteps * cycles)).map((rest) => rest + scatterDeg * normal(random))
  const square = (angles: readonly number[]): number => meanSquare(positionErrors(angles, microstep).slice(1))
  const truths = [square(rests), square(settled(motor, 4 * microsteps)) + scatterDeg ** 2].map((each) => effectiveCount(microsteps, each, 0, microstep))
  const written = write(rig, rests.map((rest) => rest - (rests[0] ?? 0) + uDeg * normal(random)))
  const rows = labels === 'tally' ? tallied(written, rests, 2 * Math.SQRT2 * uDeg) : ['position,command', ...written.map((text, k) => `${text},${k}`)]
  const read = readTrace([`# steps-per-rev: ${stepsPerRev}`, `# microsteps: ${microsteps}`, `# rig: ${rig}`, ...(said === 'stated' ? [`# mark-uncertainty: ${uDeg.toFixed(6)} deg`] : []), ...unit(rig), ...rows].join('\n'))
  const result = isUnmeasurable(read) ? read : measure(read, { cause: false })
  if ('kind' in result) {
    count('not measured', [true, true], 0)
    return
  }
  const { low, high } = result.figures.effectiveMicrosteps
  const held = truths.map((truth) => low <= truth + 1e-6 && truth <= high + 1e-6)
  const length = cycles < 1 ? 'under 1 cycle' : cycles < 4 ? '1 to 4 cycles' : '4 cycles and more'
  for (const row of ['all', length, `${length}, ${rig}`, `${length}, ${scatterDeg > 0 ? 'does not repeat' : 'repeats'}`]) count(row, held, (high - low) / microsteps)
}

for (let i = 0; i < traces; i++) run()
const percent = (part: number, of: number): string => `${((100 * part) / of).toFixed(1)} %`
console.table(Object.fromEntries([...tally].sort().map(([row, sum]) => [row, { traces: sum.traces, 'these commands': percent(sum.marked, sum.traces), 'the motor': percent(sum.motor, sum.traces), 'width / N': (sum.width / sum.traces).toFixed(3) }])))
