import type { PointerWork } from './choose-pointer.ts'
import { writeNumber } from './digits.ts'
import { arcStroke, crossStrokes, scribble } from './drawn-shapes.ts'
import { inks } from './ink.ts'
import type { Mm, Stroke } from './ink-sheet.ts'
import { type Layer, motorFace, pointerLayer, shaftInHole } from './layer.ts'
import { directionOf, type Hand } from './mark.ts'
import type { Random } from './random.ts'

/** Things on the sheet that are not marks. */
export interface Clutter {
  readonly strokes: readonly Stroke[]
  readonly layers: readonly Layer[]
  readonly names: readonly string[]
}

const none: Clutter = { strokes: [], layers: [], names: [] }

const join = (parts: readonly Clutter[]): Clutter => ({
  strokes: parts.flatMap((p) => p.strokes),
  layers: parts.flatMap((p) => p.layers),
  names: parts.flatMap((p) => p.names),
})

const away = (centre: Mm, bearingDeg: number, radiusMm: number): Mm => {
  const [dx, dy] = directionOf(bearingDeg)
  return [centre[0] + dx * radiusMm, centre[1] + dy * radiusMm]
}

/** What shows where the shaft is. */
const middle = (random: Random, work: PointerWork, kind: string): Clutter => {
  const at = work.centreMm
  const slip: Mm = [at[0] + 0.15 * random.normal(), at[1] + 0.15 * random.normal()]
  const offset: Mm = [0.25 * random.normal(), 0.25 * random.normal()]
  if (kind === 'cross') return { ...none, strokes: crossStrokes(random, slip, random.range(3, 8), work.hand), names: ['centre cross'] }
  if (kind === 'circle')
    return { ...none, strokes: [arcStroke(slip, random.range(8, 24), [0, 360], { ink: inks.blackBall, widthMm: 0.35, density: 0.9 }), ...crossStrokes(random, slip, 2.5, work.hand)], names: ['drawn circle', 'centre cross'] }
  // No pen writes under a motor: its corners end where the marks begin.
  if (kind === 'face') return { ...none, layers: [motorFace(at, Math.min(random.range(14, 21.15), work.innerMm / Math.SQRT2), random.range(0, 1.57))], names: ['motor face'] }
  const shaftMm = random.pick([1, 1.5, 2.5])
  return { ...none, layers: [shaftInHole(at, { radiusMm: shaftMm + random.range(0.4, 2), offset, shaftMm })], names: ['shaft hole'] }
}

/** Numbers beside every few marks, and a word-like row of figures elsewhere. */
const labels = (random: Random, work: PointerWork, close: boolean): Clutter => {
  const every = random.pick([4, 8, 10])
  const heightMm = random.range(2.5, 4.5)
  const hand: Hand = { ...work.hand, widthMm: Math.min(work.hand.widthMm, 0.4) }
  const gap = close ? random.range(2.4, 4) : random.range(4.5, 7)
  const strokes = work.marks.flatMap((mark) => {
    const value = mark.commands[0] ?? 0
    if (value % every !== 0) return []
    const middleMm = away(work.centreMm, mark.bearingDeg, work.outerMm + gap + heightMm / 2)
    return writeNumber(random, value, { middleMm, heightMm, angle: random.range(-0.1, 0.1) }, hand)
  })
  return { ...none, strokes, names: ['numbers'] }
}

const heading = (random: Random, work: PointerWork, sizeMm: Mm): Clutter => {
  const hand: Hand = { ...work.hand, widthMm: Math.min(work.hand.widthMm, 0.45) }
  const at: Mm = [random.range(20, 50), random.chance(0.5) ? random.range(9, 14) : sizeMm[1] - random.range(9, 14)]
  return { ...none, strokes: writeNumber(random, random.whole(1000, 99_999), { middleMm: at, heightMm: random.range(4, 6), angle: random.range(-0.06, 0.06) }, hand), names: ['heading'] }
}

const compass = (random: Random, work: PointerWork): Clutter => {
  const bearings = work.marks.map((m) => m.bearingDeg)
  const ends: [number, number] = work.run.fullTurn ? [0, 360] : [Math.min(...bearings) - random.range(3, 12), Math.max(...bearings) + random.range(3, 12)]
  const radius = random.pick([work.innerMm - 0.5, work.innerMm + 2.5, (work.innerMm + work.outerMm) / 2, work.outerMm + 1.5])
  const pen = { ink: random.pick([inks.graphite, inks.blackBall]), widthMm: random.range(0.25, 0.45), density: random.range(0.6, 1) }
  return { ...none, strokes: [arcStroke(work.centreMm, radius, ends, pen)], names: ['compass arc'] }
}

/** A compass circle about the shaft, mostly whole, now and then with a part left out. */
const circle = (random: Random, work: PointerWork): Clutter => {
  const start = random.range(0, 360)
  const span = random.chance(0.7) ? 360 : random.range(210, 340)
  const radius = random.pick([work.innerMm - random.range(1, 6), work.innerMm + random.range(1, 4), work.outerMm + random.range(0.5, 2.5)])
  const pen = { ink: random.pick([inks.graphite, inks.blackBall]), widthMm: random.range(0.25, 0.45), density: random.range(0.6, 1) }
  const slip: Mm = [work.centreMm[0] + 0.1 * random.normal(), work.centreMm[1] + 0.1 * random.normal()]
  return { ...none, strokes: [arcStroke(slip, radius, [start, start + span], pen)], names: [span === 360 ? 'compass circle' : 'part of a compass circle'] }
}

const pointer = (random: Random, work: PointerWork): Clutter => {
  const [dx, dy] = directionOf(work.lastDeg)
  const angle = Math.atan2(dy, dx) + 0.002 * random.normal()
  const reach = random.range(-3, 0.9 * (work.outerMm - work.innerMm))
  const colour = random.pick([[0.72, 0.7, 0.64], [0.45, 0.33, 0.12], [0.12, 0.12, 0.13], [0.6, 0.2, 0.12]] as const)
  const shape = { angle, hubMm: random.range(5, 10), tipMm: work.innerMm + reach, rootHalfMm: random.range(2.5, 7), tipHalfMm: random.range(0.4, 2), colour, shadow: [random.range(-1.8, 1.8), random.range(0.4, 2)] as Mm }
  return { ...none, layers: [pointerLayer(work.centreMm, shape)], names: ['pointer'] }
}

const slips = (random: Random, work: PointerWork, sizeMm: Mm): Clutter => {
  const count = random.whole(1, 3)
  const strokes = Array.from({ length: count }, () => {
    const from: Mm = [random.range(15, sizeMm[0] - 15), random.range(15, sizeMm[1] - 15)]
    const turn = random.range(0, 6.28)
    const length = random.range(12, 60)
    return scribble(random, from, [from[0] + length * Math.cos(turn), from[1] + length * Math.sin(turn)], work.hand)
  })
  const clear = strokes.filter((s) => s.points.every((p) => Math.abs(Math.hypot(p[0] - work.centreMm[0], p[1] - work.centreMm[1]) - (work.innerMm + work.outerMm) / 2) > (work.outerMm - work.innerMm) / 2 + 4))
  return { ...none, strokes: clear, names: clear.length > 0 ? ['slips of the pen'] : [] }
}

export interface ClutterWish {
  /** 0 none … 1 a mess. */
  readonly amount: number
  readonly sizeMm: Mm
  readonly pointer: boolean
  /** The middle is printed already: only a shaft through its hole. */
  readonly plainMiddle: boolean
  /** A compass circle about the shaft is drawn for certain. */
  readonly circle: boolean
}

/** Chooses what else is on the sheet. */
export const chooseClutter = (random: Random, work: PointerWork, wish: ClutterWish): Clutter => {
  const { amount } = wish
  if (amount === 0 && !wish.plainMiddle) return middle(random, work, 'cross')
  return join([
    middle(random, work, wish.plainMiddle ? 'hole' : random.pick(['hole', 'hole', 'hole', 'cross', 'cross', 'circle', 'face'])),
    random.chance(0.35 + 0.4 * amount) ? labels(random, work, random.chance(amount * 0.6)) : none,
    random.chance(0.4 * amount + 0.2) ? heading(random, work, wish.sizeMm) : none,
    wish.circle ? circle(random, work) : random.chance(0.5 * amount) ? compass(random, work) : none,
    random.chance(0.5 * amount) ? slips(random, work, wish.sizeMm) : none,
    wish.pointer ? pointer(random, work) : none,
  ])
}
