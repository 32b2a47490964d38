import { chooseRun, type Run } from './choose-run.ts'
import { inks, type Ink } from './ink.ts'
import type { Mm } from './ink-sheet.ts'
import { directionOf, type Hand, type PlannedMark } from './mark.ts'
import { planMarks } from './plan-marks.ts'
import type { Random } from './random.ts'
import type { Difficulty } from './truth.ts'

/** What was marked on the paper, before anything else is drawn. */
export interface PointerWork {
  readonly run: Run
  readonly centreMm: Mm
  readonly marks: readonly PlannedMark[]
  readonly hand: Hand
  readonly innerMm: number
  readonly outerMm: number
  /** Bearing of the last rest, where the pointer now stands. */
  readonly lastDeg: number
}

const PENS: readonly { readonly ink: Ink; readonly width: readonly [number, number] }[] = [
  { ink: inks.blackPen, width: [0.35, 0.9] },
  { ink: inks.bluePen, width: [0.35, 0.8] },
  { ink: inks.redPen, width: [0.35, 0.8] },
  { ink: inks.ballPen, width: [0.3, 0.5] },
  { ink: inks.blackBall, width: [0.3, 0.5] },
  { ink: inks.graphite, width: [0.35, 0.75] },
]

export const chooseHand = (random: Random, difficulty: Difficulty, widest: number): Hand => {
  if (difficulty === 'clean' || difficulty === 'textured') return { ink: inks.ideal, widthMm: Math.min(widest, random.range(0.4, 0.8)), density: 1, scatterMm: 0.06, leanDeg: 0, wobbleMm: 0 }
  const pen = random.pick(PENS)
  const rough = difficulty === 'hard' ? 1 : 0.5
  return {
    ink: pen.ink,
    widthMm: Math.min(widest, random.range(...pen.width)),
    density: random.chance(0.2 + 0.2 * rough) ? random.range(0.55, 0.8) : random.range(0.85, 1.15),
    scatterMm: random.range(0.03, 0.12),
    leanDeg: random.range(0.1, 0.5 + 0.7 * rough),
    wobbleMm: random.range(0.01, 0.03 + 0.05 * rough),
  }
}

/** Room about a centre on a sheet: the largest radius that stays on it for the bearings used (`allRound`: for all). */
const placeCentre = (random: Random, sizeMm: Mm, allRound: boolean): { readonly centreMm: Mm; readonly middleDeg: number; readonly room: number } => {
  const [w, h] = sizeMm
  if (allRound) {
    const centreMm: Mm = [w / 2 + random.range(-6, 6), h / 2 + random.range(-0.08, 0.08) * h]
    return { centreMm, middleDeg: random.range(0, 360), room: Math.min(centreMm[0], centreMm[1], w - centreMm[0], h - centreMm[1]) - 10 }
  }
  const middleDeg = random.pick([0, 90, 90, 180, 270]) + random.range(-20, 20)
  const [dx, dy] = directionOf(middleDeg)
  const back = random.range(0.1, 0.3)
  const centreMm: Mm = [w / 2 - dx * w * back, h / 2 - dy * h * back]
  return { centreMm, middleDeg, room: Math.min(w / 2 + Math.abs(dx) * w * back, h / 2 + Math.abs(dy) * h * back) - 8 }
}

interface Ring {
  readonly innerMm: number
  readonly lengthMm: number
}

/** Where the marks start and how long they are; now and then long ones that nearly meet at the shaft. */
const chooseZone = (random: Random, difficulty: Difficulty, longest: number): Ring => {
  if (canDouble(difficulty) && random.chance(0.12)) return { innerMm: random.range(10, 22), lengthMm: Math.min(random.range(18, 25), longest * 0.4) }
  const lengthMm = random.range(5, Math.min(16, longest * 0.2))
  return { lengthMm, innerMm: Math.min(random.range(40, 120), longest - lengthMm * 1.7) }
}

const onRing = (random: Random, pointerMm: number): Ring => {
  const lengthMm = random.range(6, 13)
  return { lengthMm, innerMm: pointerMm - lengthMm * 1.55 }
}

const canDouble = (difficulty: Difficulty): boolean => difficulty === 'plain' || difficulty === 'cropped' || difficulty === 'hard'

/** A few marks drawn twice, side by side, so that the two strokes overlap in part. */
const doubleSome = (random: Random, marks: readonly PlannedMark[], widthMm: number): readonly PlannedMark[] => {
  const chosen = new Set(Array.from({ length: random.whole(1, 4) }, () => random.whole(0, marks.length - 1)))
  return marks.flatMap((mark, i) => {
    if (!chosen.has(i)) return [mark]
    const asideDeg = ((random.sign() * random.range(0.5, 1) * widthMm) / (mark.innerMm + mark.outerMm)) * (360 / Math.PI)
    const shift = random.range(-1.5, 1.5)
    return [mark, { ...mark, bearingDeg: mark.bearingDeg + asideDeg, innerMm: mark.innerMm + shift, outerMm: mark.outerMm + shift }]
  })
}

/** The shaft stands close to the printed cross, as it is set by its hairs. */
const onSheet = (random: Random, [x, y]: Mm): ReturnType<typeof placeCentre> => ({
  centreMm: [x + 0.03 * random.normal(), y + 0.03 * random.normal()],
  middleDeg: random.range(0, 360),
  room: 200,
})

export interface PointerWish {
  readonly difficulty: Difficulty
  readonly fullTurn: boolean
  readonly bunching: boolean
  readonly sizeMm: Mm
  /** A printed sheet: where its shaft place is and which ring the pen draws in. */
  readonly sheet: { readonly shaftMm: Mm; readonly lengthMm: number } | null
}

export const choosePointerWork = (random: Random, wish: PointerWish): PointerWork => {
  const place = wish.sheet === null ? placeCentre(random, wish.sizeMm, wish.fullTurn || wish.difficulty === 'circle') : onSheet(random, wish.sheet.shaftMm)
  const longest = Math.min(place.room, 135)
  const { innerMm, lengthMm } = wish.sheet === null ? chooseZone(random, wish.difficulty, longest) : onRing(random, wish.sheet.lengthMm)
  const least = (random.range(0.9, 1.8) / innerMm) * (180 / Math.PI)
  const run = chooseRun(random, { fullTurn: wish.fullTurn, bunching: wish.bunching, leastDeg: least })
  const stepMm = ((2 * Math.PI) / (run.stepsPerRev * run.microsteps)) * innerMm
  const hand = chooseHand(random, wish.difficulty, Math.max(0.3, stepMm * 0.45))
  const span = run.restsDeg[run.restsDeg.length - 1] ?? 0
  const travel = random.sign()
  const startDeg = wish.fullTurn ? random.range(0, 360) : place.middleDeg - (travel * span) / 2
  const uneven = wish.difficulty === 'clean' || wish.difficulty === 'textured' ? 0.1 : random.range(0.1, 0.6)
  const planned = planMarks(random, run, { startDeg, travel, innerMm, lengthMm, uneven, sameMm: random.range(0.1, 0.2) })
  const marks = canDouble(wish.difficulty) && random.chance(0.2) ? doubleSome(random, planned, hand.widthMm) : planned
  return { run, centreMm: place.centreMm, marks, hand, innerMm, outerMm: Math.max(...marks.map((m) => m.outerMm)), lastDeg: startDeg + travel * span }
}
