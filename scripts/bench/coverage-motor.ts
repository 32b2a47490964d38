// How often the 95 % intervals of the fitted rest model hold the truth, how far the values are off, and how often a cause is
// named where there is none: simulated traces, u = 0.1 microstep.
// Usage: node scripts/run.mjs scripts/bench/coverage-motor.ts [traces per case] [case …]
import { fitMotor } from '#core/motor/fit-motor'
import { markRests } from '#core/motor/mark-rests'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import { predictModes } from '#core/motor/predict'
import { effectiveCount } from '#core/figures/effective-microsteps'
import { seededRandom } from '#core/numeric/seeded-random'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

interface Case {
  /** One motor, or another for each seed. */
  readonly motor: RestModel | ((seed: number) => RestModel)
  readonly last: number
  readonly bothWays: boolean
}

const smooth: RestModel = { ...evenMotor(48, 4), detent4: 0.1, detent4PhaseDeg: 40, imbalance: 0.12, offsetA: 0.04, offsetB: -0.03, friction: 0.04, startPhaseDeg: 45 }
const leaping: RestModel = { ...evenMotor(48, 4), detent2: 0.2, detent4: -0.35, friction: 0.05, startPhaseDeg: 45 }

/** Unequal phases or unequal stacks or both, as chance has it. */
const secondOrder = (seed: number): RestModel => {
  const random = seededRandom(1000 + seed)
  const [phases, stacks] = [random() < 0.67, random() < 0.67]
  return { ...smooth, imbalance: phases ? 0.2 * random() : 0, detent2: stacks || !phases ? 0.1 * random() : 0, detent2PhaseDeg: 360 * random(), startPhaseDeg: 360 * random() }
}
/** Motors that leap, whatever else is wrong with them. */
const leapingAny = (seed: number): RestModel => {
  const random = seededRandom(2000 + seed)
  return { ...evenMotor(48, 4), detent2: 0.2 * random(), detent2PhaseDeg: 360 * random(), detent4: 0.28 + 0.3 * random(), detent4PhaseDeg: 360 * random(), friction: 0.02 + 0.08 * random(), startPhaseDeg: 360 * random() }
}
const stacksOnly: RestModel = { ...smooth, imbalance: 0, detent2: 0.06 }

const cases: Record<string, Case> = {
  'smooth, one way': { motor: smooth, last: 96, bothWays: false },
  'smooth, both ways': { motor: smooth, last: 96, bothWays: true },
  'smooth 1/16, one way': { motor: { ...smooth, microsteps: 16 }, last: 384, bothWays: false },
  'stacks only, one way': { motor: stacksOnly, last: 96, bothWays: false },
  'stacks only, both ways': { motor: stacksOnly, last: 96, bothWays: true },
  'phases or stacks, one way': { motor: secondOrder, last: 96, bothWays: false },
  'phases or stacks, both ways': { motor: secondOrder, last: 96, bothWays: true },
  'phases or stacks 1/16, one way': { motor: (seed) => ({ ...secondOrder(seed), microsteps: 16 }), last: 384, bothWays: false },
  'leaping, one way': { motor: leaping, last: 96, bothWays: false },
  'leaping, both ways': { motor: leaping, last: 96, bothWays: true },
  'leaping of all sorts, one way': { motor: leapingAny, last: 96, bothWays: false },
  'leaping of all sorts, both ways': { motor: leapingAny, last: 96, bothWays: true },
  'even, one way': { motor: evenMotor(48, 4), last: 96, bothWays: false },
  'even, both ways': { motor: evenMotor(48, 4), last: 96, bothWays: true },
  'even 1/2, one way': { motor: evenMotor(48, 2), last: 48, bothWays: false },
  'even 1/16, one way': { motor: evenMotor(200, 16), last: 256, bothWays: false },
}

const motorOf = ({ motor }: Case, seed: number): RestModel => (typeof motor === 'function' ? motor(seed) : motor)

const run = (motor: RestModel, { last, bothWays }: Case, seed: number) => {
  const there = Array.from({ length: last + 1 }, (_, k) => k)
  const commands = bothWays ? [...there, ...there.toReversed()] : there
  const directions = commands.map((_, i): 1 | -1 => (i <= last ? 1 : -1))
  const { stepsPerRev, microsteps } = motor
  const uDeg = (0.1 * 360) / stepsPerRev / microsteps
  const rests = simulateRests(motor, { commands, settleCycles: 1 })
  const anglesDeg = Array.from(markRests(rests, commands, { uDeg, stepsPerRev, microsteps, seed }))
  return fitMotor({ stepsPerRev, microsteps, commands, anglesDeg, directions, passes: commands.map(() => 1), uDeg }, { seed })
}

const cpuMs = (since: NodeJS.CpuUsage): number => {
  const { user, system } = process.cpuUsage(since)
  return (user + system) / 1000
}

/** How near the value is asked to come, in units of holding torque (offset: of phase current). */
const asked = { detent2: 0.03, detent4: 0.03, imbalance: 0.02, offset: 0.03, friction: 0.03 }
const parameters = ['detent2', 'detent4', 'imbalance', 'offset', 'friction'] as const
/** Mean square error of one settled cycle in one direction, microsteps². */
const squareOf = (motor: RestModel, direction: 1 | -1): number => {
  const there = Array.from({ length: 4 * motor.microsteps }, (_, k) => k)
  const commands = direction > 0 ? there : there.toReversed()
  const microstep = 360 / motor.stepsPerRev / motor.microsteps
  const rests = simulateRests(motor, { commands, settleCycles: 1 })
  const errors = commands.map((k, i) => (rests[i] ?? 0) / microstep - k)
  const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length
  return errors.reduce((sum, e) => sum + (e - mean) ** 2, 0) / errors.length
}

/** N_eff of a mode by simulating it without marks, over the directions of the case. */
const countOf = (motor: RestModel, { bothWays }: Case, microsteps: number): number => {
  const there = squareOf({ ...motor, microsteps }, 1)
  return effectiveCount(microsteps, bothWays ? (there + squareOf({ ...motor, microsteps }, -1)) / 2 : there, 0, 1)
}

const truthOf = (motor: RestModel) => ({
  detent2: Math.abs(motor.detent2),
  detent4: Math.abs(motor.detent4),
  imbalance: Math.abs(motor.imbalance),
  offset: Math.hypot(motor.offsetA * (1 - motor.imbalance / 2), motor.offsetB * (1 + motor.imbalance / 2)),
  friction: motor.friction,
})

const study = (name: string, one: Case, count: number): void => {
  const tally = new Map(parameters.map((p) => [p, { told: 0, held: 0, square: 0, worst: 0, within: 0 }]))
  const modes = [8, 16, 32]
  const counts = modes.map((mode) => ({ mode, held: 0, square: 0 }))
  const causes = new Map<string, number>()
  const started = process.cpuUsage()
  for (let seed = 1; seed <= count; seed++) {
    const motor = motorOf(one, seed)
    const truth = truthOf(motor)
    const fitted = run(motor, one, seed)
    if (isUnmeasurable(fitted)) throw new Error(fitted.what)
    const { finding } = fitted.motorFit
    causes.set(finding.cause, (causes.get(finding.cause) ?? 0) + 1)
    for (const [i, { effectiveMicrosteps }] of predictModes(fitted.fitted, modes).entries()) {
      const count = counts[i]
      if (count === undefined) continue
      const actual = countOf(motor, one, count.mode)
      if (effectiveMicrosteps.low <= actual + 1e-9 && actual <= effectiveMicrosteps.high + 1e-9) count.held++
      count.square += (effectiveMicrosteps.value / actual - 1) ** 2
    }
    for (const p of parameters) {
      const interval = fitted.motorFit[p]
      const sum = tally.get(p)
      if (interval === null || sum === undefined) continue
      const miss = interval.value - truth[p]
      sum.told++
      if (interval.low <= truth[p] && truth[p] <= interval.high) sum.held++
      sum.square += miss * miss
      sum.worst = Math.max(sum.worst, Math.abs(miss))
      if (Math.abs(miss) <= asked[p]) sum.within++
    }
  }
  console.log(`${name}: ${count} traces, ${(cpuMs(started) / count).toFixed(0)} ms of CPU each; causes ${JSON.stringify([...causes])}`)
  for (const [p, { told, held, square, worst, within }] of tally)
    if (told > 0)
      console.log(
        `  ${p.padEnd(9)} told ${((100 * told) / count).toFixed(0)} %  held ${((100 * held) / told).toFixed(1)} %  rms miss ${Math.sqrt(square / told).toFixed(4)}  worst ${worst.toFixed(3)}  within ${asked[p]}: ${((100 * within) / told).toFixed(1)} %`,
      )
  for (const { mode, held, square } of counts)
    console.log(
      `  predicted 1/${mode}: held ${((100 * held) / count).toFixed(1)} %  rms miss ${(100 * Math.sqrt(square / count)).toFixed(2)} %`,
    )
}

const [count = '200', ...names] = process.argv.slice(2)
for (const [name, one] of Object.entries(cases)) if (names.length === 0 || names.includes(name)) study(name, one, Number(count))
