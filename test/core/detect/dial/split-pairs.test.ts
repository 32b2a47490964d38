import { detect } from '#core/detect/detect'
import type { Point } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { expect, it } from 'vitest'
import { drawRaster, radial } from '../draw-raster.ts'

const CENTRE = [320.3, 240.6] as const
const RADIUS = 175
/** Bearing of two strokes, each 2 px broad, 2.9 px apart; and of two darker ones as broad as the pair, as of a pointer. */
const PAIR = 131
const POINTER = [97, 100.6]
/** Point at a bearing. */
const at = (deg: number, r: number): Point => [CENTRE[0] + r * Math.cos((deg * Math.PI) / 180), CENTRE[1] - r * Math.sin((deg * Math.PI) / 180)]
const aside = (2.9 / 2 / RADIUS) * (180 / Math.PI)
const pair = [PAIR - aside, PAIR + aside]

// With the two broad ones the pair looks like a second pen's three; alone they are no marks. Then two were lost for one won, and the pair was left as one.
it('splits a pair also where others are no marks without it (simulated)', () => {
  const single = Array.from({ length: 36 }, (_, i) => 10 * i + 1).filter((deg) => ![91, 101, PAIR].includes(deg))
  const strokes = [...[...single, ...pair].map((deg) => radial(CENTRE, deg, [150, 200], 2, 80)), ...POINTER.map((deg) => radial(CENTRE, deg, [150, 200], 5, 170))]
  const found = detect(drawRaster([640, 480], strokes, { blur: 1, noise: 3, seed: 5 }), { centrePx: CENTRE })
  if (isUnmeasurable(found)) throw new Error(found.what)
  const off = pair.map((deg) => Math.min(...found.marks.map((m) => Math.abs((m.angleDeg ?? 0) - deg))))
  // A fifth of the way to their middle: 0.13 of it with this noise.
  expect(Math.max(...off)).toBeLessThan(aside / 5)
})

// What lies across a pair is left behind by two strokes as by one, and so they gain too little to tell by themselves.
it('splits a pair with faint lines across it as it does a clear one as wide (simulated)', () => {
  const crossed = 231
  const single = Array.from({ length: 36 }, (_, i) => 10 * i + 1).filter((deg) => ![PAIR, crossed].includes(deg))
  const two = [crossed - aside, crossed + aside]
  const across = [160, 175, 190].map((r) => ({ from: at(crossed - 4, r), to: at(crossed + 4, r), width: 2, dark: 20 }))
  const strokes = [...[...single, ...pair, ...two].map((deg) => radial(CENTRE, deg, [150, 200], 2, 80)), ...across]
  const found = detect(drawRaster([640, 480], strokes, { blur: 1, noise: 3, seed: 5 }), { centrePx: CENTRE })
  if (isUnmeasurable(found)) throw new Error(found.what)
  const off = two.map((deg) => Math.min(...found.marks.map((m) => Math.abs((m.angleDeg ?? 0) - deg))))
  expect(Math.max(...off)).toBeLessThan(aside / 5)
})
