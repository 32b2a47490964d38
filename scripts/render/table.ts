import { type NoiseTile, sampleNoise } from './noise-tile.ts'

/** What the sheet lies on (or hangs on). Colours are linear reflectances. */
export interface Table {
  readonly kind: 'wood' | 'cloth' | 'mat' | 'pale' | 'even'
  readonly colour: readonly [number, number, number]
  /** Direction of grain or weave, rad. */
  readonly angle: number
}

const wood = (tile: NoiseTile, along: number, across: number): number => {
  const bend = 1.4 * sampleNoise(tile, along / 60, across / 40)
  const rings = 0.5 + 0.5 * Math.sin(across / 3.2 + bend * 2.2 + 1.2 * sampleNoise(tile, along / 200, across / 9))
  const fibre = sampleNoise(tile, along / 9, across / 0.7)
  return 1 - 0.28 * rings * rings + 0.08 * fibre
}

const cloth = (tile: NoiseTile, x: number, y: number, footprint: number): number => {
  const weave = Math.sin((x * 2 * Math.PI) / 0.9) * Math.sin((y * 2 * Math.PI) / 0.9) * Math.exp(-((footprint / 0.5) ** 2))
  const stripe = Math.sin((x * 2 * Math.PI) / 34) > 0.86 ? -0.25 : 0
  return 1 + 0.2 * weave + 0.07 * sampleNoise(tile, x / 1.1, y / 1.1) + 0.05 * sampleNoise(tile, x / 25, y / 25) + stripe
}

const mat = (tile: NoiseTile, x: number, y: number, footprint: number): number => {
  const near = Math.min(Math.abs(x - 10 * Math.round(x / 10)), Math.abs(y - 10 * Math.round(y / 10)))
  const sigma = Math.hypot(0.15, footprint / 3)
  return 1 + 0.7 * (0.15 / sigma) * Math.exp(-((near / sigma) ** 2) / 2) + 0.06 * sampleNoise(tile, x / 0.8, y / 0.8)
}

/** Linear colour of the table at a point of its plane (the paper's frame, mm), written into `out`. */
export const tableColour = (table: Table, tile: NoiseTile, [x, y, footprint]: readonly [number, number, number], out: Float64Array): void => {
  const along = x * Math.cos(table.angle) + y * Math.sin(table.angle)
  const across = -x * Math.sin(table.angle) + y * Math.cos(table.angle)
  const shade =
    table.kind === 'wood' ? wood(tile, along, across)
    : table.kind === 'cloth' ? cloth(tile, along, across, footprint)
    : table.kind === 'mat' ? mat(tile, along, across, footprint)
    : table.kind === 'pale' ? 1 + 0.012 * sampleNoise(tile, x / 2, y / 2) + 0.02 * sampleNoise(tile, along / 45, across / 8)
    : 1
  for (let c = 0; c < 3; c++) out[c] = (table.colour[c] ?? 0) * Math.max(0.05, shade)
}
