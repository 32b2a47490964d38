// How often 95 % intervals hold the truth, over simulated traces with independent marks (simulated data throughout).
// Usage: node scripts/run.mjs scripts/bench/coverage.ts [traces per motor, 2000] [seed, 1]
import { effectiveCount } from '#core/figures/effective-microsteps'
import { figuresOf } from '#core/figures/figures'
import { harmonicsOf } from '#core/figures/harmonics'
import { positionErrors } from '#core/figures/position-errors'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import { mean } from '#core/numeric/moments'
import { normal, seededRandom } from '#core/numeric/seeded-random'

interface Case {
  readonly name: string
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly commands: number
  readonly restsDeg: readonly number[]
  readonly uDeg: number
}

const wave = (name: string, [stepsPerRev, microsteps, commands]: readonly [number, number, number], [second, fourth]: readonly [number, number], uMicrosteps: number): Case => {
  const microstepDeg = 360 / stepsPerRev / microsteps
  const restsDeg = Array.from({ length: commands + 1 }, (_, k) => {
    const phi = (Math.PI / 2) * (k / microsteps)
    return microstepDeg * (k + fourth * Math.sin(4 * phi + 0.3) + second * Math.sin(2 * phi + 1))
  })
  return { name, stepsPerRev, microsteps, commands, restsDeg, uDeg: uMicrosteps * microstepDeg }
}

const motor = (name: string, parts: Partial<RestModel>, [stepsPerRev, microsteps, commands]: readonly [number, number, number], uMicrosteps: number): Case => {
  const rests = simulateRests({ ...evenMotor(stepsPerRev, microsteps), ...parts }, { commands: Array.from({ length: commands + 1 }, (_, k) => k), settleCycles: 1 })
  return { name, stepsPerRev, microsteps, commands, restsDeg: [...rests], uDeg: (uMicrosteps * 360) / stepsPerRev / microsteps }
}

const cases: readonly Case[] = [
  wave('even, 24 steps, 1/4, a turn', [24, 4, 96], [0, 0], 0.1),
  wave('nearly even, 24 steps, 1/4', [24, 4, 96], [0.03, 0.03], 0.1),
  wave('orders 2 and 4, 24 steps, 1/4', [24, 4, 96], [0.05, 0.08], 0.1),
  wave('orders 2 and 4, 24 steps, 1/4, coarse marks', [24, 4, 96], [0.2, 0.15], 0.3),
  wave('orders 2 and 4, 48 steps, 1/4, half a turn', [48, 4, 96], [0.1, 0.3], 0.1),
  wave('even, 48 steps, 1/4, half a turn', [48, 4, 96], [0, 0], 0.2),
  motor('two unequal stacks, 24 steps, 1/4', { detent2: 0.2, detent4: -0.35, friction: 0.05 }, [24, 4, 96], 0.1),
  motor('detent and friction, 48 steps, 1/4', { detent4: 0.1, friction: 0.06 }, [48, 4, 96], 0.1),
  wave('even, 200 steps, 1/16, arc of ten full steps', [200, 16, 160], [0, 0], 0.3),
  wave('orders 2 and 4, 200 steps, 1/16, arc of ten full steps', [200, 16, 160], [0.4, 0.6], 0.3),
  motor('detent, 200 steps, 1/16, arc of ten full steps', { detent4: 0.1, friction: 0.02 }, [200, 16, 160], 0.2),
  wave('orders 2 and 4, 200 steps, 1/16, a turn', [200, 16, 3200], [0.4, 0.6], 0.3),
]

const percent = (count: number, trials: number): string => `${((100 * count) / trials).toFixed(1)} %`

const run = (each: Case, trials: number, seed: number): Record<string, string> => {
  const { stepsPerRev, microsteps, uDeg } = each
  const microstepDeg = 360 / stepsPerRev / microsteps
  const errors = positionErrors(each.restsDeg, microstepDeg)
  const truth = effectiveCount(microsteps, mean(errors.slice(1).map((e) => e * e)), 0, microstepDeg)
  const waves = harmonicsOf(errors, { stepsPerRev, microsteps, withTurn: false })
  const random = seededRandom(seed)
  let held = 0
  let width = 0
  let missed = 0
  let near = 0
  const waveHeld = waves.map(() => 0)
  for (let trial = 0; trial < trials; trial++) {
    const anglesDeg = each.restsDeg.map((rest) => rest + uDeg * normal(random))
    const figures = figuresOf({ anglesDeg, uDeg: anglesDeg.map(() => uDeg), commonUDeg: 0, stepsPerRev, microsteps, turnDeg: null })
    const { low, high, value } = figures.effectiveMicrosteps
    missed += (value / truth - 1) ** 2 / trials
    if (Math.abs(value / truth - 1) <= 0.03) near++
    if (low <= truth + 1e-9 && truth - 1e-9 <= high) held++
    width += (high - low) / trials
    figures.harmonics.forEach(({ lowDeg, highDeg }, i) => {
      const amplitude = waves[i]?.amplitudeDeg ?? 0
      if (lowDeg <= amplitude + 1e-9 && amplitude - 1e-9 <= highDeg) waveHeld[i] = (waveHeld[i] ?? 0) + 1
    })
  }
  const byOrder = Object.fromEntries(waves.map(({ order }, i) => [`order ${order}`, percent(waveHeld[i] ?? 0, trials)]))
  return { motor: each.name, 'N_eff': truth.toFixed(3), covered: percent(held, trials), 'mean width': width.toFixed(3), 'rms miss': `${(100 * Math.sqrt(missed)).toFixed(2)} %`, 'within 3 %': percent(near, trials), ...byOrder }
}

const [trials = 2000, seed = 1] = process.argv.slice(2).map(Number)
const rows = cases.map((each, i) => run(each, trials, seed + i))
console.table(rows)
