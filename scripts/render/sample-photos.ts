import { frameCamera } from './camera.ts'
import { viewSheet } from './choose-camera.ts'
import { choosePaper } from './choose-look.ts'
import { runModel } from './choose-run.ts'
import { printedStrip } from './choose-strip.ts'
import type { PointerWork } from './choose-pointer.ts'
import { type Blank, shootPointer } from './compose-pointer.ts'
import { shootStrip } from './compose-strip.ts'
import { inks } from './ink.ts'
import type { Mm } from './ink-sheet.ts'
import type { Hand } from './mark.ts'
import { planMarks } from './plan-marks.ts'
import { printSheet, sheetFor } from './printed-sheet.ts'
import { createRandom, type Random } from './random.ts'
import { canStack, goodHybrid } from './sample-motors.ts'
import { CLEAR_MOVE_DEG } from './sample-traces.ts'
import type { Shot } from './shot.ts'

const pen: Hand = { ink: inks.bluePen, widthMm: 0.5, density: 1, scatterMm: 0.06, leanDeg: 0.3, wobbleMm: 0.03 }

const PHONE = [1944, 2592] as const

/** The can-stack's full turn, marked with a pen at a pointer's tip. */
const canStackWork = (random: Random, centreMm: Mm, innerMm: number): PointerWork => {
  const run = runModel(canStack, 192)
  const sameMm = ((innerMm + 5) * CLEAR_MOVE_DEG * Math.PI) / 180
  const marks = planMarks(random, run, { startDeg: 90, travel: -1, innerMm, lengthMm: 10, uneven: 0.25, sameMm })
  return { run, centreMm, marks, hand: pen, innerMm, outerMm: Math.max(...marks.map((m) => m.outerMm)), lastDeg: 90 }
}

const a4 = (random: Random): Blank['paper'] => {
  const paper = choosePaper(random, { clutter: 0, landscape: false })
  return { ...paper, name: 'a4', sizeMm: [210, 297] }
}

const wish = { size: PHONE, maxTiltDeg: 16, maxRollDeg: 6, maxK1: 0.006 }

/** Plain A4 with a hole for the shaft. */
export const plainPhoto = (): Shot => {
  const random = createRandom(701, 'sample plain')
  const paper = a4(random)
  const work = canStackWork(random, [103, 141], 45)
  return shootPointer(random, { paper, print: null, work }, { seed: 701, difficulty: 'plain', camera: viewSheet(random, paper.sizeMm, wish), pointer: false })
}

/** The same motor on the printed sheet. */
export const sheetPhoto = (): Shot => {
  const random = createRandom(702, 'sample sheet')
  const sheet = sheetFor(60)
  const paper = { ...a4(random), sizeMm: sheet.sizeMm }
  const work = canStackWork(random, sheet.shaftMm, 45)
  const blank: Blank = { paper, work, print: printSheet(sheet, work.run, 'flap-1 can-stack') }
  return shootPointer(random, blank, { seed: 702, difficulty: 'sheet', camera: viewSheet(random, paper.sizeMm, { ...wish, maxTiltDeg: 24 }), pointer: false })
}

/** The good hybrid's light spot on one printed strip, wall at 950 mm. */
export const stripPhoto = (): Shot => {
  const random = createRandom(703, 'sample strip')
  const strip = printedStrip('a4', 950, { stepsPerRev: 200, microsteps: 16 })
  const run = runModel(goodHybrid, 64)
  const footMm = 126
  const startDeg = (Math.atan((8 - footMm) / 950) * 90) / Math.PI
  const spotsMm = run.restsDeg.map((rest) => footMm + 950 * Math.tan(((startDeg + rest) * 2 * Math.PI) / 180))
  const [w, h] = strip.sizeMm
  const pose = { width: 2592, height: 1944, focal: 0.8, tiltDeg: 9, leanDeg: 75, rollDeg: -2, aimMm: [w / 2, h / 2] as Mm, k1: 0.004 }
  const camera = frameCamera(pose, [[0, 0], [w, 0], [w, h], [0, h]], 0.03)
  return shootStrip(703, random, { work: { strip, run, distanceMm: 950, spotsMm }, camera, hand: pen })
}
