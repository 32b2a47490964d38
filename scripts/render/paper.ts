import type { Mm } from './ink-sheet.ts'
import { type NoiseTile, sampleNoise } from './noise-tile.ts'

/** Straight crease: through a point at an angle; the two sides catch the light differently. */
export interface Fold {
  readonly throughMm: Mm
  readonly angle: number
  readonly strength: number
}

/** Printed lines behind everything: every `stepMm` down, and across too when squared. */
export interface Ruling {
  readonly stepMm: number
  readonly widthMm: number
  readonly squared: boolean
  readonly density: readonly [number, number, number]
}

/** A soft patch: a ring (coffee) or a rubbed blot (smudge). */
export interface Stain {
  readonly kind: 'ring' | 'smudge'
  readonly centreMm: Mm
  readonly radiusMm: number
  readonly density: readonly [number, number, number]
  /** Smudge: direction and lengthening of the rub. */
  readonly angle: number
  readonly stretch: number
}

export interface Paper {
  readonly name: string
  readonly sizeMm: Mm
  /** Linear reflectance for red, green, blue. */
  readonly colour: readonly [number, number, number]
  /** Standard deviation of its own unevenness. */
  readonly texture: number
  readonly folds: readonly Fold[]
  readonly ruling: Ruling | null
  readonly stains: readonly Stain[]
}

/** A thin line's mean over a pixel of size `footprint`: a bell of the same area, widened. */
const lineCover = (distance: number, width: number, footprint: number): number => {
  const sigma = Math.sqrt((width * width + footprint * footprint) / 12)
  return (width / (sigma * 2.5066)) * Math.exp((-distance * distance) / (2 * sigma * sigma))
}

const nearest = (value: number, step: number): number => Math.abs(value - step * Math.round(value / step))

const rulingCover = (ruling: Ruling, x: number, y: number, footprint: number): number => {
  const down = lineCover(nearest(y - 3, ruling.stepMm), ruling.widthMm, footprint)
  return ruling.squared ? Math.min(1, down + lineCover(nearest(x - 2, ruling.stepMm), ruling.widthMm, footprint)) : Math.min(1, down)
}

const foldShade = (fold: Fold, x: number, y: number, footprint: number): number => {
  const d = -(x - fold.throughMm[0]) * Math.sin(fold.angle) + (y - fold.throughMm[1]) * Math.cos(fold.angle)
  const sides = Math.tanh(d / 0.6) * Math.exp(-Math.abs(d) / 18)
  return 1 + fold.strength * sides - 2.2 * fold.strength * lineCover(d, 0.3, footprint)
}

const stainCover = (stain: Stain, x: number, y: number, tile: NoiseTile): number => {
  const [dx, dy] = [x - stain.centreMm[0], y - stain.centreMm[1]]
  const noise = sampleNoise(tile, x / 1.7, y / 1.7)
  if (stain.kind === 'ring') {
    const off = Math.hypot(dx, dy) - stain.radiusMm - 0.4 * sampleNoise(tile, x / 6, y / 6)
    const rim = Math.exp(-((off / 0.9) ** 2)) + (off < 0 ? 0.25 * Math.exp(off / 5) : 0)
    return Math.max(0, rim * (1 + 0.35 * noise))
  }
  const along = (dx * Math.cos(stain.angle) + dy * Math.sin(stain.angle)) / stain.stretch
  const across = -dx * Math.sin(stain.angle) + dy * Math.cos(stain.angle)
  const streak = sampleNoise(tile, along * 0.25, across * 1.2)
  return Math.max(0, Math.exp(-(along * along + across * across) / (stain.radiusMm * stain.radiusMm)) * (1 + 0.4 * streak + 0.2 * noise))
}

/** Linear colour of the bare paper at a point, written into `out`; `footprint` is the size of a pixel there, mm. */
export const paperColour = (paper: Paper, tile: NoiseTile, [x, y, footprint]: readonly [number, number, number], out: Float64Array): void => {
  let shade = 1
  if (paper.texture > 0) {
    const fine = 0.8 / Math.sqrt(1 + (footprint / 0.3) ** 2)
    shade += paper.texture * (fine * sampleNoise(tile, x / 0.3, y / 0.3) + 0.6 * sampleNoise(tile, x / 2.1 + 11, y / 2.1))
  }
  for (const fold of paper.folds) shade *= foldShade(fold, x, y, footprint)
  const ruled = paper.ruling === null ? 0 : rulingCover(paper.ruling, x, y, footprint)
  for (let c = 0; c < 3; c++) {
    let density = paper.ruling === null ? 0 : ruled * (paper.ruling.density[c] ?? 0)
    for (const stain of paper.stains) density += (stain.density[c] ?? 0) * stainCover(stain, x, y, tile)
    out[c] = (paper.colour[c] ?? 0) * shade * (density > 0 ? Math.exp(-density) : 1)
  }
}
