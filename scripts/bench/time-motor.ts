// CPU seconds of the motor fit, its sampled intervals and three predicted modes included: a trace of 97 marks (smooth, leaping; one way,
// there and back) and one of 3,201 commands. Simulated traces, u = 0.1 microstep. Best of five, the first one warms up.
// Usage: node scripts/run.mjs scripts/bench/time-motor.ts
import { fitMotor } from '#core/motor/fit-motor'
import { markRests } from '#core/motor/mark-rests'
import { predictModes } from '#core/motor/predict'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'

const cpuSeconds = (work: () => void): number => {
  const since = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(since)
  return (user + system) / 1e6
}

const time = (name: string, motor: RestModel, last: number, bothWays: boolean): void => {
  const there = Array.from({ length: last + 1 }, (_, k) => k)
  const commands = bothWays ? [...there, ...there.toReversed()] : there
  const { stepsPerRev, microsteps } = motor
  const uDeg = (0.1 * 360) / stepsPerRev / microsteps
  const anglesDeg = Array.from(markRests(simulateRests(motor, { commands, settleCycles: 1 }), commands, { uDeg, stepsPerRev, microsteps, seed: 1 }))
  const trace = { stepsPerRev, microsteps, commands, anglesDeg, uDeg, passes: commands.map(() => 1), directions: commands.map((_, i): 1 | -1 => (i <= last ? 1 : -1)) }
  const run = (intervals: 'sampled' | 'linear') => (): void => {
    const result = fitMotor(trace, { seed: 1, intervals })
    if (result.kind === 'fitted motor' && intervals === 'sampled') predictModes(result.fitted, [8, 16, 32])
  }
  const sampled = Array.from({ length: 5 }, () => cpuSeconds(run('sampled')))
  const linear = Array.from({ length: 5 }, () => cpuSeconds(run('linear')))
  console.log(`${name}: first ${sampled[0]?.toFixed(3)} s, best ${Math.min(...sampled).toFixed(3)} s; fast path ${Math.min(...linear).toFixed(3)} s`)
}

const smooth = { ...evenMotor(48, 4), detent4: 0.1, imbalance: 0.1, offsetA: 0.03, friction: 0.03 }
const leaping = { ...evenMotor(48, 4), detent2: 0.2, detent4: -0.35, friction: 0.05 }
time('97 marks, smooth', smooth, 96, false)
time('97 marks there and back, smooth', smooth, 96, true)
time('97 marks, leaping', leaping, 96, false)
time('97 marks there and back, leaping', leaping, 96, true)
time('3,201 commands, smooth', { ...smooth, stepsPerRev: 200, microsteps: 16 }, 3200, false)
time('3,201 commands, leaping', { ...leaping, stepsPerRev: 200, microsteps: 16 }, 3200, false)
