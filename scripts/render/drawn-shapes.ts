import type { Ink } from './ink.ts'
import type { Mm, Stroke } from './ink-sheet.ts'
import { directionOf, type Hand } from './mark.ts'
import type { Random } from './random.ts'

/** A compass arc (or printed circle) from one bearing to another, counter-clockwise, deg. */
export const arcStroke = (
  centre: Mm,
  radiusMm: number,
  [fromDeg, toDeg]: readonly [number, number],
  pen: { readonly ink: Ink; readonly widthMm: number; readonly density: number },
): Stroke => {
  const count = Math.max(8, Math.ceil((((toDeg - fromDeg) * Math.PI) / 180) * radiusMm * 0.8))
  const points = Array.from({ length: count + 1 }, (_, i): Mm => {
    const [dx, dy] = directionOf(fromDeg + ((toDeg - fromDeg) * i) / count)
    return [centre[0] + radiusMm * dx, centre[1] + radiusMm * dy]
  })
  return { points, ...pen }
}

/** A cross drawn by hand at a point. */
export const crossStrokes = (random: Random, at: Mm, armMm: number, hand: Hand): readonly Stroke[] => {
  const turn = random.range(-4, 4)
  return [0, 90].map((base) => {
    const [dx, dy] = directionOf(base + turn + random.range(-2, 2))
    const arms = [armMm * random.range(0.85, 1.15), armMm * random.range(0.85, 1.15)] as const
    return {
      points: [[at[0] - dx * arms[0], at[1] - dy * arms[0]], at, [at[0] + dx * arms[1], at[1] + dy * arms[1]]],
      ink: hand.ink,
      widthMm: hand.widthMm,
      density: hand.density,
    }
  })
}

/** A loose doodle or a slip of the pen between two points. */
export const scribble = (random: Random, from: Mm, to: Mm, hand: Hand): Stroke => {
  const bow = random.range(-0.15, 0.15)
  const points = Array.from({ length: 25 }, (_, i): Mm => {
    const t = i / 24
    const side = bow * Math.sin(Math.PI * t)
    return [from[0] + t * (to[0] - from[0]) - side * (to[1] - from[1]), from[1] + t * (to[1] - from[1]) + side * (to[0] - from[0])]
  })
  return { points, ink: hand.ink, widthMm: hand.widthMm, density: hand.density * 0.9 }
}

