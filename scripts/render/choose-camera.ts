import { type Camera, frameCamera, project } from './camera.ts'
import type { Mm } from './ink-sheet.ts'
import { directionOf } from './mark.ts'
import type { Random } from './random.ts'

export interface ViewWish {
  readonly size: readonly [width: number, height: number]
  readonly maxTiltDeg: number
  readonly maxRollDeg: number
  readonly maxK1: number
}

const choosePose = (random: Random, wish: ViewWish, aimMm: Mm) => ({
  width: wish.size[0],
  height: wish.size[1],
  focal: random.range(0.68, 0.95),
  tiltDeg: wish.maxTiltDeg * Math.sqrt(random.next()),
  leanDeg: random.range(0, 360),
  rollDeg: random.range(-wish.maxRollDeg, wish.maxRollDeg),
  aimMm,
  k1: random.range(-wish.maxK1, wish.maxK1),
})

/** The whole sheet in view, with some table around it. */
export const viewSheet = (random: Random, sizeMm: Mm, wish: ViewWish): Camera => {
  const [w, h] = sizeMm
  const aim: Mm = [w / 2 + random.range(-12, 12), h / 2 + random.range(-12, 12)]
  const corners: readonly Mm[] = [[0, 0], [w, 0], [w, h], [0, h]]
  return frameCamera(choosePose(random, wish, aim), corners, random.range(0.02, 0.09))
}

/** Only the circle of marks fills the picture; null when a corner of the sheet still shows. */
export const viewCircle = (random: Random, place: { readonly centreMm: Mm; readonly radiusMm: number; readonly sizeMm: Mm }, wish: ViewWish): Camera | null => {
  const { centreMm, radiusMm, sizeMm } = place
  const [w, h] = sizeMm
  const aim: Mm = [centreMm[0] + random.range(-5, 5), centreMm[1] + random.range(-5, 5)]
  const ring = Array.from({ length: 24 }, (_, i): Mm => {
    const [dx, dy] = directionOf(i * 15)
    return [centreMm[0] + dx * radiusMm, centreMm[1] + dy * radiusMm]
  })
  const camera = frameCamera(choosePose(random, wish, aim), ring, random.range(0.01, 0.05))
  return cornersSeen(camera, [w, h]) > 0 ? null : camera
}

/** How many corners of the sheet lie inside the frame. */
export const cornersSeen = (camera: Camera, [w, h]: Mm): number =>
  ([[0, 0], [w, 0], [w, h], [0, h]] as const).filter((corner) => {
    const [x, y] = project(camera, corner)
    return x >= 0 && y >= 0 && x <= camera.width - 1 && y <= camera.height - 1
  }).length
