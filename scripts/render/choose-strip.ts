import type { Shape } from '#core/prepare/sheet/shape'
import { drawnPages } from '#core/prepare/sheet/drawn-pages'
import { chooseModel, type Run, runModel } from './choose-run.ts'
import type { Mm } from './ink-sheet.ts'
import { type Print, printShapes } from './print.ts'
import type { Random } from './random.ts'

/** The paper on the wall that a light spot was marked on. */
export interface Strip {
  readonly kind: 'printed strip' | 'paper strip with ruler' | 'paper strip' | 'wide paper with ruler'
  readonly name: string
  readonly sizeMm: Mm
  /** Where the line's zero is on the paper. */
  readonly zeroMm: Mm
  readonly lengthMm: number
  readonly print: Print | null
  /** Whether the long edges are meant to be in the picture. */
  readonly edges: boolean
}

/** A ruler along the line: a tick each mm, away from the marks, numbered every 10 mm. */
const rulerShapes = (lengthMm: number, y: number): readonly Shape[] =>
  Array.from({ length: Math.floor(lengthMm) + 1 }, (_, mm): readonly Shape[] => {
    const tick = mm % 10 === 0 ? 6 : mm % 5 === 0 ? 4.5 : 3
    const line: Shape = { kind: 'line', role: 'tick', from: [mm, y], to: [mm, y + tick], width: 0.2, tone: 0.05 }
    return mm % 10 === 0 ? [line, { kind: 'text', role: 'tick', at: [mm, y + 9.5], size: 3, anchor: 'middle', text: String(mm), tone: 0.05 }] : [line]
  }).flat()

/** One page of the printed strip. */
export const printedStrip = (paper: 'a4' | 'letter', distanceMm: number, motor: { readonly stepsPerRev: number; readonly microsteps: number }): Strip => {
  const [page] = drawnPages({ rig: 'mirror', paper, lengthMm: distanceMm, motor: 'rail motor', ...motor })
  if (page === undefined) throw new RangeError('the printed strip has no page')
  const { left, right, top, bottom } = page.page.sheet
  const sizeMm: Mm = [right - left, bottom - top]
  return { kind: 'printed strip', name: paper, sizeMm, zeroMm: [-left, -top], lengthMm: sizeMm[0] - 24, print: printShapes(page.shapes, sizeMm, [-left, -top]), edges: true }
}

const cutStrip = (random: Random, ruled: boolean): Strip => {
  const sizeMm: Mm = [random.range(250, 420), random.range(50, 80)]
  const zeroMm: Mm = [random.range(8, 15), sizeMm[1] * 0.45]
  const lengthMm = sizeMm[0] - zeroMm[0] - 10
  const print = ruled ? printShapes(rulerShapes(lengthMm, sizeMm[1] * 0.55 - 12), sizeMm, zeroMm) : null
  return { kind: ruled ? 'paper strip with ruler' : 'paper strip', name: 'strip', sizeMm, zeroMm, lengthMm, print, edges: true }
}

const widePaper = (random: Random): Strip => {
  const sizeMm: Mm = [420, 297]
  const zeroMm: Mm = [random.range(60, 80), 148]
  const lengthMm = random.range(230, 270)
  return { kind: 'wide paper with ruler', name: 'a3', sizeMm, zeroMm, lengthMm, print: printShapes(rulerShapes(lengthMm, 14), sizeMm, zeroMm), edges: false }
}

export interface StripWork {
  readonly strip: Strip
  readonly run: Run
  readonly distanceMm: number
  /** Where the spot was after each command, along the line. */
  readonly spotsMm: readonly number[]
}

const MOTORS = [[200, 16], [200, 8], [200, 16], [100, 8], [48, 16], [200, 32]] as const

/** A mirror on the shaft, a spot on the wall: x = D·tan 2θ about the foot of the perpendicular. */
export const chooseStripWork = (random: Random): StripWork => {
  const [stepsPerRev, microsteps] = random.pick(MOTORS)
  const spacingMm = random.range(2, 5)
  const distanceMm = Math.round(spacingMm / Math.tan((4 * Math.PI) / (stepsPerRev * microsteps)))
  const kind = random.pick(['printed', 'printed', 'ruled', 'bare', 'wide'] as const)
  const strip = kind === 'printed' ? printedStrip(random.chance(0.3) ? 'letter' : 'a4', distanceMm, { stepsPerRev, microsteps }) : kind === 'wide' ? widePaper(random) : cutStrip(random, kind === 'ruled')
  const model = chooseModel(random, stepsPerRev, microsteps, false)
  const footMm = strip.lengthMm / 2 + random.range(-20, 20)
  const firstMm = random.range(4, 12)
  const startDeg = Math.atan((firstMm - footMm) / distanceMm) * 90 / Math.PI
  const most = Math.floor((strip.lengthMm - firstMm - 6) / spacingMm / 1.15)
  const run = runModel(model, Math.max(12, Math.min(most, random.whole(50, 120))))
  const spotsMm = run.restsDeg.map((rest) => footMm + distanceMm * Math.tan(((startDeg + rest) * 2 * Math.PI) / 180)).filter((x) => x < strip.lengthMm - 3)
  return { strip, run, distanceMm, spotsMm }
}
