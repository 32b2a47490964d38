import type { Mm } from './ink-sheet.ts'

/** A soft-edged dark shape on the sheet: capsules (fingers, a hand, a phone) melted together. */
export interface CastShadow {
  readonly capsules: readonly { readonly a: Mm; readonly b: Mm; readonly radiusMm: number }[]
  readonly softMm: number
  /** Light left in the middle of the shadow, 0 … 1. */
  readonly left: number
}

export interface Light {
  /** Change of brightness per mm along x and y, and a warm patch. */
  readonly slope: Mm
  readonly aroundMm: Mm
  /** Lamp pool: amplitude and radius, mm. */
  readonly pool: { readonly atMm: Mm; readonly amount: number; readonly radiusMm: number } | null
  /** Fall-off towards the picture's corners, 0 … 1. */
  readonly vignette: number
  readonly tint: readonly [number, number, number]
  readonly shadows: readonly CastShadow[]
}

const distanceToCapsule = (x: number, y: number, { a, b, radiusMm }: CastShadow['capsules'][number]): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const squared = dx * dx + dy * dy
  const t = squared > 0 ? Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / squared)) : 0
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy) - radiusMm
}

const shadowAt = (shadow: CastShadow, x: number, y: number): number => {
  let near = Number.POSITIVE_INFINITY
  for (const capsule of shadow.capsules) near = Math.min(near, distanceToCapsule(x, y, capsule))
  const t = Math.max(0, Math.min(1, 0.5 - near / (2 * shadow.softMm)))
  return 1 - (1 - shadow.left) * t * t * (3 - 2 * t)
}

/** Brightness at a point of the table plane, before vignette. */
export const lightAt = (light: Light, x: number, y: number): number => {
  let level = 1 + light.slope[0] * (x - light.aroundMm[0]) + light.slope[1] * (y - light.aroundMm[1])
  if (light.pool !== null) {
    const d2 = (x - light.pool.atMm[0]) ** 2 + (y - light.pool.atMm[1]) ** 2
    level += light.pool.amount * Math.exp(-d2 / light.pool.radiusMm ** 2)
  }
  level = Math.max(0.15, level)
  for (const shadow of light.shadows) level *= shadowAt(shadow, x, y)
  return level
}
