import { type Camera, frameCamera, pixelsPerMm, project } from './camera.ts'
import { cornersSeen } from './choose-camera.ts'
import { chooseEncoding } from './choose-encoding.ts'
import { chooseLight, choosePaper, chooseSensor, chooseTable } from './choose-look.ts'
import { chooseHand } from './choose-pointer.ts'
import { chooseStripWork, type StripWork } from './choose-strip.ts'
import { writeNumber } from './digits.ts'
import { HARDNESS } from './difficulty.ts'
import { layInk, type Mm, type Stroke } from './ink-sheet.ts'
import { lightAt } from './light.ts'
import { drawMark, type Hand, type PlannedMark } from './mark.ts'
import { createNoiseTile } from './noise-tile.ts'
import { createRandom, type Random } from './random.ts'
import type { Scene } from './scene.ts'
import type { Shot } from './shot.ts'
import { tellStripMarks } from './tell-truth.ts'
import { TRUTH_NOTE } from './truth.ts'

/** Marks stand across the line; they are planned like pointer marks about a centre below each spot. */
const planAcross = (random: Random, work: StripWork): readonly { readonly foot: Mm; readonly mark: PlannedMark }[] => {
  const [x0, y0] = work.strip.zeroMm
  const lengthMm = random.range(7, 13)
  return work.spotsMm.map((spot, command) => {
    const long = command % 10 === 0 ? 1.3 : 1
    const from = -lengthMm / 2 + random.range(-1.2, 1.2)
    return { foot: [x0 + spot, y0], mark: { commands: [command], bearingDeg: 90, innerMm: from, outerMm: from + lengthMm * long * random.range(0.9, 1.1) } }
  })
}

const labels = (random: Random, work: StripWork, hand: Hand): readonly Stroke[] => {
  const [x0, y0] = work.strip.zeroMm
  return work.spotsMm.flatMap((spot, command) =>
    command % 10 === 0 ? writeNumber(random, command, { middleMm: [x0 + spot, y0 - 13], heightMm: 3, angle: random.range(-0.1, 0.1) }, { ...hand, widthMm: Math.min(0.4, hand.widthMm) }) : [])
}

const chooseCamera = (random: Random, { strip, spotsMm }: StripWork, given: readonly [number, number] | null): Camera => {
  const hardness = HARDNESS.strip
  const chosen = random.pick(hardness.sizes)
  const size = given ?? chosen
  const [x0, y0] = strip.zeroMm
  const [first, last] = [Math.min(...spotsMm), Math.max(...spotsMm)]
  const [w, h] = strip.sizeMm
  const around: readonly Mm[] = strip.edges ? [[0, 0], [w, 0], [w, h], [0, h]] : [[x0 + first - 4, y0 - 14], [x0 + last + 4, y0 - 14], [x0 + last + 4, y0 + 24], [x0 + first - 4, y0 + 24]]
  const pose = {
    width: size[0],
    height: size[1],
    focal: random.range(0.68, 0.95),
    tiltDeg: hardness.maxTiltDeg * Math.sqrt(random.next()),
    leanDeg: random.range(0, 360),
    rollDeg: random.range(-hardness.maxRollDeg, hardness.maxRollDeg),
    aimMm: [(strip.edges ? w / 2 : x0 + (first + last) / 2) + random.range(-8, 8), (strip.edges ? h / 2 : y0) + random.range(-8, 8)] as Mm,
    k1: random.range(-hardness.maxK1, hardness.maxK1),
  }
  return frameCamera(pose, around, random.range(0.01, 0.04))
}

/** Marks along a line on a strip of paper on a wall, as a photo. The same seed gives the same photo. */
export const composeStrip = (seed: number, size: readonly [number, number] | null): Shot => {
  for (let attempt = 0; attempt < 400; attempt++) {
    const random = createRandom(seed, `strip-${attempt}`)
    const work = chooseStripWork(random)
    const camera = chooseCamera(random, work, size)
    const hand = chooseHand(random, 'plain', 0.7)
    if (work.spotsMm.length < 10 || hand.widthMm * pixelsPerMm(camera, work.strip.zeroMm) < 1.4) continue
    return shootStrip(seed, random, { work, camera, hand })
  }
  throw new RangeError(`no strip photo can be composed from seed ${seed}`)
}

export interface Chosen {
  readonly work: StripWork
  readonly camera: Camera
  readonly hand: Hand
}

const sceneOf = (random: Random, { work, camera, hand }: Chosen, strokes: readonly Stroke[]): Scene => {
  const { strip } = work
  const paper = choosePaper(random, { clutter: 0, landscape: true })
  const wall = random.chance(0.6)
  return {
    paper: { ...paper, name: strip.name, sizeMm: strip.sizeMm },
    print: strip.print,
    ink: layInk([...strokes, ...labels(random, work, hand)], strip.sizeMm, createNoiseTile(random.whole(1, 1e6), 256, 1)),
    layers: [],
    table: wall ? { kind: 'pale', colour: random.pick([[0.6, 0.58, 0.52], [0.45, 0.5, 0.48], [0.55, 0.52, 0.5]]), angle: random.range(0, 3) } : chooseTable(random, false),
    light: chooseLight(random, strip.zeroMm, { uneven: 0.7, shadow: random.chance(HARDNESS.strip.shadow) }),
    camera,
    tile: createNoiseTile(random.whole(1, 1e6), 512, 1),
    samples: 4,
  }
}

/** Marks the strip, adds light and lens. */
export const shootStrip = (seed: number, random: Random, chosen: Chosen): Shot => {
  const { work, camera, hand } = chosen
  const { strip, run } = work
  const planned = planAcross(random, work)
  const strokes = planned.map(({ foot, mark }) => drawMark(random, foot, mark, { ...hand, leanDeg: hand.leanDeg * 1.5 }))
  const scene = sceneOf(random, chosen, strokes)
  const [x, y] = strip.zeroMm
  const sensor = chooseSensor(random, HARDNESS.strip.rough, seed, (scene.paper.colour[1] ?? 0.8) * lightAt(scene.light, x + strip.lengthMm / 2, y))
  const encoding = chooseEncoding(random, 'strip')
  const [w, h] = strip.sizeMm
  return {
    scene,
    sensor,
    encoding,
    truth: {
      schema: 'stepwitness/render-truth@1',
      simulated: true,
      note: TRUTH_NOTE,
      seed,
      difficulty: 'strip',
      photo: { file: '', width: camera.width, height: camera.height, ...encoding },
      rig: 'mirror',
      motor: { stepsPerRev: run.stepsPerRev, microsteps: run.microsteps, commands: work.spotsMm.length - 1, fullTurn: false },
      paper: { name: strip.name, sizeMm: strip.sizeMm, cornersPx: ([[0, 0], [w, 0], [w, h], [0, h]] as const).map((p) => project(camera, p)), cornersInView: cornersSeen(camera, strip.sizeMm) === 4 },
      centreMm: null,
      centrePx: null,
      pixelsPerMm: pixelsPerMm(camera, [x + strip.lengthMm / 2, y]),
      camera: { tiltDeg: camera.tiltDeg, rollDeg: camera.rollDeg, k1: camera.k1, focalPx: camera.focalPx, forward: camera.forward },
      sensor: { blurPx: sensor.blurPx, motionPx: sensor.motionPx, noise: Math.sqrt(sensor.shot), sharpen: sensor.sharpen.amount },
      ink: hand.ink.name,
      ...tellStripMarks(scene, sensor, { zeroMm: strip.zeroMm, spotsMm: work.spotsMm, marks: planned.map((p) => p.mark), hand }),
      clutter: [strip.kind, 'numbers', ...(scene.light.shadows.length > 0 ? ['cast shadow'] : [])],
    },
  }
}
