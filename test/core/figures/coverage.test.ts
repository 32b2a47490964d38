import { describe, expect, it } from 'vitest'
import { effectiveCount } from '#core/figures/effective-microsteps'
import { figuresOf } from '#core/figures/figures'
import { harmonicsOf } from '#core/figures/harmonics'
import { positionErrors } from '#core/figures/position-errors'
import { mean } from '#core/numeric/moments'
import { normal, seededRandom } from '#core/numeric/seeded-random'

interface Case {
  readonly name: string
  readonly motor: readonly [stepsPerRev: number, microsteps: number, commands: number]
  /** Amplitudes of orders 2 and 4, microsteps. */
  readonly waves: readonly [number, number]
  /** Microsteps. */
  readonly u: number
}

const cases: readonly Case[] = [
  { name: 'even, 24 steps', motor: [24, 4, 96], waves: [0, 0], u: 0.1 },
  { name: 'orders 2 and 4, 24 steps', motor: [24, 4, 96], waves: [0.05, 0.08], u: 0.1 },
  { name: 'orders 2 and 4, 48 steps, half a turn', motor: [48, 4, 96], waves: [0.1, 0.3], u: 0.1 },
  { name: 'orders 2 and 4, 200 steps, arc of ten full steps', motor: [200, 16, 160], waves: [0.4, 0.6], u: 0.3 },
]

const traces = 400

const restsOf = ({ motor: [stepsPerRev, microsteps, commands], waves: [second, fourth] }: Case): number[] =>
  Array.from({ length: commands + 1 }, (_, k) => {
    const phi = (Math.PI / 2) * (k / microsteps)
    return (360 / stepsPerRev / microsteps) * (k + fourth * Math.sin(4 * phi + 0.3) + second * Math.sin(2 * phi + 1))
  })

const tally = (each: Case, seed: number): { effective: number; waves: number[] } => {
  const [stepsPerRev, microsteps] = each.motor
  const microstepDeg = 360 / stepsPerRev / microsteps
  const rests = restsOf(each)
  const errors = positionErrors(rests, microstepDeg)
  const truth = effectiveCount(microsteps, mean(errors.slice(1).map((e) => e * e)), 0, microstepDeg)
  const amplitudes = harmonicsOf(errors, { stepsPerRev, microsteps, withTurn: false }).map(({ amplitudeDeg }) => amplitudeDeg)
  const random = seededRandom(seed)
  const held = { effective: 0, waves: amplitudes.map(() => 0) }
  for (let trace = 0; trace < traces; trace++) {
    const u = each.u * microstepDeg
    const anglesDeg = rests.map((rest) => rest + u * normal(random))
    const { effectiveMicrosteps, harmonics } = figuresOf({ anglesDeg, uDeg: anglesDeg.map(() => u), commonUDeg: 0, stepsPerRev, microsteps, turnDeg: null })
    if (effectiveMicrosteps.low <= truth + 1e-9 && truth <= effectiveMicrosteps.high + 1e-9) held.effective++
    harmonics.forEach(({ lowDeg, highDeg }, i) => {
      if (lowDeg <= (amplitudes[i] ?? 0) + 1e-9 && (amplitudes[i] ?? 0) <= highDeg + 1e-9) held.waves[i] = (held.waves[i] ?? 0) + 1
    })
  }
  return held
}

// Simulated traces with independent normal marks. 400 traces leave ±4·√(0.95·0.05/400) = ±0.0436 about 0.95 (four
// deviations, since sixteen figures are checked at once), all pooled ±0.0109 and some bias allowed; the full run of 2,000
// traces per motor is scripts/bench/coverage.ts.
describe('95 % intervals hold the truth', () => {
  const tallies = cases.map((each, i) => ({ name: each.name, ...tally(each, 100 + i) }))
  for (const { name, effective, waves } of tallies)
    it(name, () => {
      for (const held of [effective, ...waves]) expect(Math.abs(held / traces - 0.95)).toBeLessThan(0.0436)
    })

  it('taken all together', () => {
    const all = tallies.flatMap(({ effective, waves }) => [effective, ...waves])
    expect(Math.abs(mean(all) / traces - 0.95)).toBeLessThan(0.015)
  })
})

/** Shares of simulated traces whose interval holds N_eff of these commands, and of the motor: its whole cycle with what it does not repeat. */
const heldBy = (commands: number, { scatter, u, traces: count, stated = true }: { readonly scatter: number; readonly u: number; readonly traces: number; readonly stated?: boolean }) => {
  const each: Case = { name: '', motor: [48, 8, commands], waves: [0.3, 0.4], u }
  const microstepDeg = 360 / 48 / 8
  const squareOf = (rests: readonly number[]): number => mean(positionErrors(rests, microstepDeg).slice(1).map((e) => e * e))
  const ofMotor = effectiveCount(8, squareOf(restsOf({ ...each, motor: [48, 8, 32] })) + (scatter * microstepDeg) ** 2, 0, microstepDeg)
  const random = seededRandom(7)
  const held = { marked: 0, motor: 0 }
  for (let trace = 0; trace < count; trace++) {
    const rests = restsOf(each).map((rest) => rest + scatter * microstepDeg * normal(random))
    const marked = effectiveCount(8, squareOf(rests), 0, microstepDeg)
    const anglesDeg = rests.map((rest) => rest + u * microstepDeg * normal(random))
    const uDeg = (stated ? u : Math.hypot(u, scatter)) * microstepDeg
    const { low, high } = figuresOf({ anglesDeg, uDeg: anglesDeg.map(() => uDeg), ...(stated ? {} : { scatterDeg: uDeg }), commonUDeg: 0, stepsPerRev: 48, microsteps: 8, turnDeg: null }).effectiveMicrosteps
    if (low <= marked && marked <= high) held.marked++
    if (low <= ofMotor && ofMotor <= high) held.motor++
  }
  return { marked: held.marked / count, motor: held.motor / count }
}

// Simulated, 400 traces each: three deviations of 1.1 % about 95 % leave 91.7 %. Upwards no limit: an interval for two truths covers each more often.
describe('N_eff of less than four electrical cycles holds what these commands did and what the motor does', () => {
  it.each([32, 42, 64, 75, 100])('%i commands of 32 to a cycle, rests that repeat', (commands) => {
    const { marked, motor } = heldBy(commands, { scatter: 0, u: 0.1, traces: 400 })
    expect(Math.min(marked, motor)).toBeGreaterThan(0.917)
  })

  it.each([64, 75, 100])('%i commands, rests that scatter by 0.15 microsteps beyond marks of 0.05', (commands) => {
    const { marked, motor } = heldBy(commands, { scatter: 0.15, u: 0.05, traces: 400 })
    expect(Math.min(marked, motor)).toBeGreaterThan(0.917)
  })

  it('half a cycle says next to nothing of the other half, and says how it was come by', () => {
    expect(heldBy(16, { scatter: 0, u: 0.1, traces: 100 }).motor).toBeGreaterThan(0.917)
    const angles = restsOf({ name: '', motor: [48, 8, 16], waves: [0.3, 0.4], u: 0 })
    const { effectiveMicrosteps } = figuresOf({ anglesDeg: angles, uDeg: angles.map(() => 0.01), commonUDeg: 0, stepsPerRev: 48, microsteps: 8, turnDeg: null })
    expect(effectiveMicrosteps.method).toContain('waves of order 1, 2 and 4')
  })

  it('with u told from the scatter alone the lower end leaves open that all of it is the motor’s', () => {
    expect(heldBy(200, { scatter: 0.15, u: 0.05, traces: 400, stated: false }).motor).toBeGreaterThan(0.917)
  })
})
