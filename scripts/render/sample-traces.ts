import { runModel } from './choose-run.ts'
import { createRandom } from './random.ts'
import { canStack, goodHybrid, mediocreHybrid } from './sample-motors.ts'

const head = (lines: readonly string[]): string => lines.map((line) => `# ${line}\n`).join('')

const SCENE = 'note: SIMULATED, made by scripts/render/samples.ts, not measured on a real motor'

interface WallTrace {
  readonly motor: string
  readonly model: typeof goodHybrid
  readonly commands: number
  readonly distanceMm: number
  readonly seed: number
}

/** Spot positions on a wall read with a tape: x = D·tan 2θ about the foot, 0.2 mm standard deviation, written to 0.1 mm. */
const wallTrace = ({ motor, model, commands, distanceMm, seed }: WallTrace): string => {
  const random = createRandom(seed, motor)
  const { restsDeg, stepsPerRev, microsteps } = runModel(model, commands)
  const half = (restsDeg[restsDeg.length - 1] ?? 0) / 2
  const footMm = Math.round(distanceMm * Math.tan((half * 2 * Math.PI) / 180) + 20)
  const rows = restsDeg.map((rest, k) => {
    const x = footMm + distanceMm * Math.tan(((rest - half) * 2 * Math.PI) / 180) + 0.2 * random.normal()
    return `${x.toFixed(1)},${k}\n`
  })
  const set = [
    `motor: ${motor}`, SCENE, `steps-per-rev: ${stepsPerRev}`, `microsteps: ${microsteps}`, 'rig: mirror', 'position-unit: mm',
    `distance: ${distanceMm} mm`, `foot: ${footMm} mm`, 'mark-uncertainty: 0.2 mm',
  ]
  return `${head(set)}position,command\n${rows.join('')}`
}

/** One full turn of the can-stack under a 45 mm pointer: a mark where the pointer clearly moved, a tally where it did not. */
const canStackTrace = (): string => {
  const random = createRandom(48, 'can-stack')
  const { restsDeg } = runModel(canStack, 192)
  const marks: { at: number; tally: number }[] = []
  restsDeg.forEach((rest, k) => {
    const last = marks[marks.length - 1]
    if (last !== undefined && rest - last.at < CLEAR_MOVE_DEG) last.tally++
    else marks.push({ at: rest, tally: k === 0 ? 0 : 1 })
  })
  const rows = marks.map(({ at, tally }) => `${(at + 0.2 * random.normal()).toFixed(1)},${tally}\n`)
  const set = ['motor: flap-1 can-stack', SCENE, 'steps-per-rev: 48', 'microsteps: 4', 'rig: pointer', 'position-unit: deg', 'mark-uncertainty: 0.2 deg']
  return `${head(set)}position,tally\n${rows.join('')}`
}

/** Less than this looks like standing still under a 45 mm pointer (1.2 mm). */
export const CLEAR_MOVE_DEG = 1.5

/** File name → text. */
export const sampleTraces = (): Readonly<Record<string, string>> => ({
  'pump-1-good-hybrid.csv': wallTrace({ motor: 'pump-1 hybrid', model: goodHybrid, commands: 256, distanceMm: 900, seed: 1 }),
  'pump-2-mediocre-hybrid.csv': wallTrace({ motor: 'pump-2 hybrid', model: mediocreHybrid, commands: 128, distanceMm: 900, seed: 2 }),
  'flap-1-can-stack.csv': canStackTrace(),
})
