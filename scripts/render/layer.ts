import type { Mm } from './ink-sheet.ts'

/** A solid thing that lies on or shows through the sheet: pointer, shaft, hole, motor face. */
export interface Layer {
  readonly name: string
  /** Where it (and its contact shadow) can be, mm. */
  readonly boxMm: readonly [x0: number, y0: number, x1: number, y1: number]
  /** How much of the paper it hides at a point, 0 … 1, and writes its linear colour. */
  readonly paint: (x: number, y: number, colour: Float64Array) => number
  /** Light left on the paper beside it, 0 … 1. */
  readonly shade: (x: number, y: number) => number
  /** Whether it can hide ink (a pointer and a motor can; a hole is part of the paper). */
  readonly hides: boolean
}

const within = (distance: number, soft: number): number => {
  const t = Math.max(0, Math.min(1, 0.5 - distance / (2 * soft)))
  return t * t * (3 - 2 * t)
}

/** Dark hole with a lit steel shaft end in it; the shaft stands `offset` off the hole's middle. */
export const shaftInHole = (centre: Mm, hole: { readonly radiusMm: number; readonly offset: Mm; readonly shaftMm: number }): Layer => {
  const [hx, hy] = [centre[0] + hole.offset[0], centre[1] + hole.offset[1]]
  const reach = hole.radiusMm + 3
  return {
    name: 'shaft hole',
    boxMm: [hx - reach, hy - reach, hx + reach, hy + reach],
    hides: false,
    shade: () => 1,
    paint: (x, y, colour) => {
      const inHole = within(Math.hypot(x - hx, y - hy) - hole.radiusMm, 0.12)
      if (inHole === 0) return 0
      const d = Math.hypot(x - centre[0], y - centre[1])
      const onShaft = within(d - hole.shaftMm, 0.08)
      const shine = 0.32 + 0.3 * Math.cos(Math.atan2(y - centre[1], x - centre[0]) * 2 + 0.7) * Math.min(1, d / hole.shaftMm)
      const flat = 0.035
      for (let c = 0; c < 3; c++) colour[c] = flat * (1 - onShaft) + onShaft * Math.max(0.06, shine)
      return inHole
    },
  }
}

/** Square motor face with rounded corners seen through a cut-out, screws and shaft on it. */
export const motorFace = (centre: Mm, halfMm: number, angle: number): Layer => {
  const [c0, s0] = [Math.cos(angle), Math.sin(angle)]
  const reach = halfMm * 1.5
  const distance = (x: number, y: number): number => {
    const qx = Math.abs((x - centre[0]) * c0 + (y - centre[1]) * s0) - halfMm + 3
    const qy = Math.abs(-(x - centre[0]) * s0 + (y - centre[1]) * c0) - halfMm + 3
    return Math.hypot(Math.max(qx, 0), Math.max(qy, 0)) + Math.min(Math.max(qx, qy), 0) - 3
  }
  const screw = (x: number, y: number): number => {
    const qx = Math.abs((x - centre[0]) * c0 + (y - centre[1]) * s0) - halfMm * 0.73
    const qy = Math.abs(-(x - centre[0]) * s0 + (y - centre[1]) * c0) - halfMm * 0.73
    return Math.hypot(qx, qy)
  }
  return {
    name: 'motor face',
    boxMm: [centre[0] - reach, centre[1] - reach, centre[0] + reach, centre[1] + reach],
    hides: true,
    shade: () => 1,
    paint: (x, y, colour) => {
      const inside = within(distance(x, y), 0.12)
      if (inside === 0) return 0
      const d = Math.hypot(x - centre[0], y - centre[1])
      let grey = 0.14 + 0.02 * Math.sin(x * 7 + y * 3)
      if (screw(x, y) < 1.6) grey = 0.03
      if (Math.abs(d - halfMm * 0.52) < 0.3) grey = 0.24
      if (d < halfMm * 0.52) grey += 0.05
      if (d < 2.5) grey = 0.45 + 0.25 * Math.cos(Math.atan2(y - centre[1], x - centre[0]) * 2)
      for (let c = 0; c < 3; c++) colour[c] = grey * (1 + 0.02 * c)
      return inside
    },
  }
}

export interface PointerShape {
  readonly angle: number
  readonly hubMm: number
  readonly tipMm: number
  readonly rootHalfMm: number
  readonly tipHalfMm: number
  readonly colour: readonly [number, number, number]
  /** Where its shadow falls, mm. */
  readonly shadow: Mm
}

/** The pointer over the sheet: a hub and a tapering strip, with a soft shadow beside it. `angle` in paper coordinates, y down. */
export const pointerLayer = (centre: Mm, shape: PointerShape): Layer => {
  const [c0, s0] = [Math.cos(shape.angle), Math.sin(shape.angle)]
  const distance = (x: number, y: number): number => {
    const along = (x - centre[0]) * c0 + (y - centre[1]) * s0
    const across = Math.abs(-(x - centre[0]) * s0 + (y - centre[1]) * c0)
    const t = Math.max(0, Math.min(1, along / shape.tipMm))
    const strip = Math.max(across - (shape.rootHalfMm * (1 - t) + shape.tipHalfMm * t), along - shape.tipMm, -along - 12)
    return Math.min(strip, Math.hypot(x - centre[0], y - centre[1]) - shape.hubMm)
  }
  const reach = shape.tipMm + 6
  return {
    name: 'pointer',
    boxMm: [centre[0] - reach, centre[1] - reach, centre[0] + reach, centre[1] + reach],
    hides: true,
    shade: (x, y) => 1 - 0.45 * within(distance(x - shape.shadow[0], y - shape.shadow[1]), 1.1),
    paint: (x, y, colour) => {
      const d = distance(x, y)
      const inside = within(d, 0.08)
      if (inside === 0) return 0
      const r = Math.hypot(x - centre[0], y - centre[1])
      const rim = d > -0.35 ? 0.75 : 1
      const shaft = r < 2.5 ? 0.35 : r < 2.9 ? 0.2 : 1
      for (let c = 0; c < 3; c++) colour[c] = (shape.colour[c] ?? 0) * rim * shaft
      return inside
    },
  }
}
