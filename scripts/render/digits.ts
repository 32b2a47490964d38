import type { Mm, Stroke } from './ink-sheet.ts'
import type { Hand } from './mark.ts'
import type { Random } from './random.ts'

/** Pen paths of the ten digits in a box 0.6 wide and 1 high, y down; several paths where the pen lifts. */
const PATHS: readonly (readonly (readonly Mm[])[])[] = [
  [[[0.3, 0], [0.08, 0.2], [0.03, 0.55], [0.14, 0.9], [0.3, 1], [0.48, 0.88], [0.57, 0.5], [0.48, 0.14], [0.3, 0]]],
  [[[0.12, 0.24], [0.34, 0], [0.33, 1]]],
  [[[0.06, 0.22], [0.2, 0.02], [0.44, 0.04], [0.52, 0.26], [0.36, 0.56], [0.04, 0.98], [0.56, 0.96]]],
  [[[0.08, 0.08], [0.3, 0], [0.5, 0.16], [0.42, 0.38], [0.24, 0.46], [0.46, 0.54], [0.54, 0.78], [0.34, 1], [0.06, 0.9]]],
  [[[0.34, 0], [0.04, 0.62], [0.58, 0.62]], [[0.42, 0.36], [0.4, 1]]],
  [[[0.5, 0.02], [0.14, 0.03], [0.1, 0.44], [0.34, 0.4], [0.54, 0.6], [0.48, 0.88], [0.26, 1], [0.06, 0.92]]],
  [[[0.46, 0.02], [0.2, 0.26], [0.06, 0.64], [0.16, 0.94], [0.38, 0.98], [0.54, 0.76], [0.44, 0.54], [0.22, 0.54], [0.08, 0.7]]],
  [[[0.05, 0.03], [0.56, 0.02], [0.26, 1]], [[0.2, 0.5], [0.48, 0.48]]],
  [[[0.32, 0.46], [0.1, 0.28], [0.2, 0.04], [0.42, 0.04], [0.5, 0.26], [0.32, 0.46], [0.08, 0.7], [0.16, 0.96], [0.42, 0.98], [0.54, 0.72], [0.32, 0.46]]],
  [[[0.52, 0.3], [0.36, 0.46], [0.12, 0.38], [0.1, 0.12], [0.32, 0], [0.5, 0.1], [0.52, 0.3], [0.44, 1]]],
]

export interface Lettering {
  /** Middle of the number, mm. */
  readonly middleMm: Mm
  readonly heightMm: number
  /** Direction in which it is read, rad, y down. */
  readonly angle: number
}

/** A hand-written whole number. */
export const writeNumber = (random: Random, value: number, place: Lettering, hand: Hand): readonly Stroke[] => {
  const digits = String(value).split('').map(Number)
  const advance = 0.78
  const [c, s] = [Math.cos(place.angle), Math.sin(place.angle)]
  return digits.flatMap((digit, index) => {
    const slant = random.range(-0.12, 0.2)
    const size = place.heightMm * random.range(0.88, 1.12)
    return (PATHS[digit] ?? []).map((path): Stroke => {
      const points = smoothPath(path).map(([x, y]): Mm => {
        const u = (x - 0.3 + (index - (digits.length - 1) / 2) * advance - slant * (y - 0.5) + 0.012 * random.normal()) * size
        const v = (y - 0.5 + 0.012 * random.normal()) * size
        return [place.middleMm[0] + u * c - v * s, place.middleMm[1] + u * s + v * c]
      })
      return { points, ink: hand.ink, widthMm: hand.widthMm, density: hand.density }
    })
  })
}

/** Corner cutting, twice: a hand rounds its corners (Chaikin's scheme). */
const smoothPath = (path: readonly Mm[]): readonly Mm[] => cutCorners(cutCorners(path))

const cutCorners = (path: readonly Mm[]): readonly Mm[] => {
  const first = path[0] ?? [0, 0]
  const last = path[path.length - 1] ?? first
  const cut = path.slice(1).flatMap((b, i): Mm[] => {
    const a = path[i] ?? b
    return [
      [0.75 * a[0] + 0.25 * b[0], 0.75 * a[1] + 0.25 * b[1]],
      [0.25 * a[0] + 0.75 * b[0], 0.25 * a[1] + 0.75 * b[1]],
    ]
  })
  return [first, ...cut, last]
}
