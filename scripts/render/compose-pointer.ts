import { type Camera, pixelsPerMm, project } from './camera.ts'
import { cornersSeen, viewCircle, viewSheet } from './choose-camera.ts'
import { chooseEncoding } from './choose-encoding.ts'
import { chooseLight, choosePaper, chooseSensor, chooseTable } from './choose-look.ts'
import { choosePointerWork, type PointerWork } from './choose-pointer.ts'
import { chooseClutter, type Clutter } from './clutter.ts'
import { type Hardness, HARDNESS } from './difficulty.ts'
import { layInk, type Mm } from './ink-sheet.ts'
import { drawMark } from './mark.ts'
import { lightAt } from './light.ts'
import { createNoiseTile } from './noise-tile.ts'
import type { Paper } from './paper.ts'
import type { Print } from './print.ts'
import { orderSheet, printSheet } from './printed-sheet.ts'
import { createRandom, type Random } from './random.ts'
import type { Scene } from './scene.ts'
import type { Sensor } from './sensor.ts'
import type { Shot } from './shot.ts'
import { tellPointerMarks } from './tell-truth.ts'
import { type Difficulty, TRUTH_NOTE, type Truth } from './truth.ts'

const chooseCamera = (random: Random, work: PointerWork, sizeMm: Mm, ask: { readonly hardness: Hardness; readonly cropped: boolean }): Camera | null => {
  const [w, h] = random.pick(ask.hardness.sizes)
  const tall = ask.cropped ? random.chance(0.5) : sizeMm[1] > sizeMm[0]
  const wish = { ...ask.hardness, size: tall ? ([h, w] as const) : ([w, h] as const) }
  if (!ask.cropped) return viewSheet(random, sizeMm, wish)
  return viewCircle(random, { centreMm: work.centreMm, radiusMm: work.outerMm + random.range(3, 9), sizeMm }, wish)
}

const cleanSensor = (random: Random, seed: number): Sensor => ({
  blurPx: random.range(0.6, 1),
  motionPx: [0, 0],
  shot: 0,
  read: 0,
  flatNoise: random.range(2, 8),
  sharpen: { amount: 0, radiusPx: 1 },
  exposure: 0.9,
  tone: 'srgb',
  seed,
})

/** Straight strokes, frontal, even light: the classes that are held against the Cramér–Rao bound. */
const isStill = (difficulty: Difficulty): boolean => difficulty === 'clean' || difficulty === 'textured'

const sceneOf = (random: Random, parts: { readonly work: PointerWork; readonly paper: Paper; readonly camera: Camera; readonly clutter: Clutter; readonly print: Print | null }, difficulty: Difficulty): Scene => {
  const { work, paper, camera, clutter, print } = parts
  const hardness = HARDNESS[difficulty]
  const tile = createNoiseTile(random.whole(1, 1e6), 512, 1)
  const marks = work.marks.map((mark) => drawMark(random, work.centreMm, mark, work.hand))
  const still = isStill(difficulty)
  const light = chooseLight(random, work.centreMm, { uneven: still ? 0 : 0.6 + 0.7 * hardness.rough, shadow: random.chance(hardness.shadow) })
  return {
    paper: difficulty === 'clean' ? { ...paper, texture: 0 } : paper,
    print,
    ink: layInk([...marks, ...clutter.strokes], paper.sizeMm, createNoiseTile(random.whole(1, 1e6), 256, 1)),
    layers: clutter.layers,
    table: still ? { kind: 'even', colour: [0.05, 0.05, 0.05], angle: 0 } : chooseTable(random, hardness.paleTable),
    light: still ? { ...light, vignette: 0, tint: [1, 1, 1] } : light,
    camera,
    tile,
    samples: still ? 6 : pixelsPerMm(camera, work.centreMm) > 4 ? 3 : 4,
  }
}

const namesOf = (scene: Scene, clutter: Clutter): readonly string[] => [
  ...clutter.names,
  ...(scene.light.shadows.length > 0 ? ['cast shadow'] : []),
  ...(scene.paper.ruling === null ? [] : [scene.paper.ruling.squared ? 'squared paper' : 'ruled paper']),
  ...(scene.paper.folds.length > 0 ? ['folds'] : []),
  ...scene.paper.stains.map((s) => (s.kind === 'ring' ? 'coffee ring' : 'smudge')),
]

/** The sheet of paper and what was printed on it. */
export interface Blank {
  readonly paper: Paper
  readonly print: Print | null
  readonly work: PointerWork
}

const choosePlain = (random: Random, difficulty: Difficulty, fullTurn: boolean): Blank => {
  const paper = choosePaper(random, { clutter: HARDNESS[difficulty].clutter, landscape: random.chance(0.4) })
  const bunching = random.chance(isStill(difficulty) ? 0 : 0.25)
  return { paper, print: null, work: choosePointerWork(random, { difficulty, fullTurn, bunching, sizeMm: paper.sizeMm, sheet: null }) }
}

const choosePrinted = (random: Random): Blank => {
  const sheet = orderSheet(random)
  const plain = choosePaper(random, { clutter: HARDNESS.sheet.clutter, landscape: false })
  const paper = { ...plain, name: sheet.paper, sizeMm: sheet.sizeMm, ruling: null }
  const wish = { difficulty: 'sheet', fullTurn: random.chance(0.7), bunching: random.chance(0.25), sizeMm: paper.sizeMm, sheet } as const
  const work = choosePointerWork(random, wish)
  return { paper, work, print: printSheet(sheet, work.run) }
}

/** One try at a photo; null when the choices do not go together. */
const tryPointer = (seed: number, difficulty: Difficulty, random: Random, size: readonly [number, number] | null): Shot | null => {
  const hardness = size === null ? HARDNESS[difficulty] : { ...HARDNESS[difficulty], sizes: [size] }
  const cropped = difficulty === 'cropped' || difficulty === 'circle' || (difficulty === 'hard' && random.chance(0.3))
  const fullTurn = difficulty !== 'circle' && (cropped || random.chance(0.6))
  const blank = difficulty === 'sheet' ? choosePrinted(random) : choosePlain(random, difficulty, fullTurn)
  const { paper, work } = blank
  const camera = chooseCamera(random, work, paper.sizeMm, { hardness, cropped })
  const thick = camera === null ? 0 : work.hand.widthMm * pixelsPerMm(camera, work.centreMm)
  if (camera === null || thick < leastWidthPx(difficulty) || work.marks.length < 8) return null
  return shootPointer(random, blank, { seed, difficulty, camera, pointer: random.chance(hardness.pointer) })
}

export interface PointerShot {
  readonly seed: number
  readonly difficulty: Difficulty
  readonly camera: Camera
  readonly pointer: boolean
}

/** Adds what lies about, light and lens to a marked sheet. */
export const shootPointer = (random: Random, blank: Blank, { seed, difficulty, camera, pointer }: PointerShot): Shot => {
  const { paper, print, work } = blank
  const { clutter: amount, rough } = HARDNESS[difficulty]
  const clutter = chooseClutter(random, work, { amount, sizeMm: paper.sizeMm, pointer, plainMiddle: print !== null, circle: difficulty === 'circle' })
  const scene = sceneOf(random, { work, paper, camera, clutter, print }, difficulty)
  const sensor = isStill(difficulty) ? cleanSensor(random, seed) : chooseSensor(random, rough, seed, paperLevel(scene, work.centreMm))
  return tell(seed, difficulty, { scene, sensor, work, names: namesOf(scene, clutter), random })
}

/** A pointer trace on a sheet, as a photo of the given class. The same seed and class give the same photo. */
export const composePointer = (seed: number, difficulty: Difficulty, size: readonly [number, number] | null): Shot => {
  for (let attempt = 0; attempt < 400; attempt++) {
    const shot = tryPointer(seed, difficulty, createRandom(seed, `${difficulty}-${attempt}`), size)
    if (shot !== null) return shot
  }
  throw new RangeError(`no ${difficulty} photo can be composed from seed ${seed}`)
}

const paperLevel = ({ paper, light }: Scene, [x, y]: Mm): number => (paper.colour[1] ?? 0.8) * lightAt(light, x, y)

/** Thinner strokes than this vanish in the photo and would only test luck. */
const leastWidthPx = (difficulty: Difficulty): number => (difficulty === 'hard' ? 0.9 : 1.4)

interface Told {
  readonly scene: Scene
  readonly sensor: Sensor
  readonly work: PointerWork
  readonly names: readonly string[]
  readonly random: Random
}

const tell = (seed: number, difficulty: Difficulty, { scene, sensor, work, names, random }: Told): Shot => {
  const { camera, paper } = scene
  const [w, h] = paper.sizeMm
  const encoding = chooseEncoding(random, difficulty)
  const truth: Truth = {
    schema: 'stepwitness/render-truth@1',
    simulated: true,
    note: TRUTH_NOTE,
    seed,
    difficulty,
    photo: { file: '', width: camera.width, height: camera.height, ...encoding },
    rig: 'pointer',
    motor: { stepsPerRev: work.run.stepsPerRev, microsteps: work.run.microsteps, commands: work.run.restsDeg.length - 1, fullTurn: work.run.fullTurn },
    paper: { name: paper.name, sizeMm: paper.sizeMm, cornersPx: ([[0, 0], [w, 0], [w, h], [0, h]] as const).map((p) => project(camera, p)), cornersInView: cornersSeen(camera, paper.sizeMm) === 4 },
    centreMm: work.centreMm,
    centrePx: project(camera, work.centreMm),
    pixelsPerMm: pixelsPerMm(camera, work.centreMm),
    camera: { tiltDeg: camera.tiltDeg, rollDeg: camera.rollDeg, k1: camera.k1, focalPx: camera.focalPx, forward: camera.forward },
    sensor: { blurPx: sensor.blurPx, motionPx: sensor.motionPx, noise: sensor.flatNoise || Math.sqrt(sensor.shot), sharpen: sensor.sharpen.amount },
    ink: work.hand.ink.name,
    ...tellPointerMarks(scene, sensor, { ...work, fullTurn: work.run.fullTurn }),
    clutter: names,
  }
  return { scene, sensor, encoding, truth }
}
