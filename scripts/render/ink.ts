/** How a pen, a pencil or a printer colours paper. */
export interface Ink {
  readonly name: string
  /** Optical density per unit of ink for red, green, blue (natural log). */
  readonly absorb: readonly [number, number, number]
  /** Half the width of a stroke's soft edge, mm. */
  readonly edgeMm: number
  /** Standard deviation of the density's own unevenness, as a fraction. */
  readonly grain: number
  /** Size of one grain, mm. */
  readonly grainMm: number
}

export const inks = {
  blackPen: { name: 'black pen', absorb: [2.3, 2.3, 2.2], edgeMm: 0.05, grain: 0.08, grainMm: 0.25 },
  bluePen: { name: 'blue pen', absorb: [2.4, 1.7, 0.6], edgeMm: 0.05, grain: 0.08, grainMm: 0.25 },
  redPen: { name: 'red pen', absorb: [0.25, 1.9, 1.8], edgeMm: 0.05, grain: 0.08, grainMm: 0.25 },
  ballPen: { name: 'ball pen', absorb: [1.7, 1.5, 0.8], edgeMm: 0.04, grain: 0.3, grainMm: 0.18 },
  blackBall: { name: 'black ball pen', absorb: [1.7, 1.7, 1.6], edgeMm: 0.04, grain: 0.3, grainMm: 0.18 },
  graphite: { name: 'pencil', absorb: [0.95, 0.95, 0.92], edgeMm: 0.08, grain: 0.5, grainMm: 0.16 },
  printed: { name: 'printed black', absorb: [2.6, 2.6, 2.6], edgeMm: 0.02, grain: 0.03, grainMm: 0.1 },
  printedGrey: { name: 'printed grey', absorb: [0.2, 0.2, 0.2], edgeMm: 0.02, grain: 0.05, grainMm: 0.1 },
  ruledBlue: { name: 'ruled blue', absorb: [0.32, 0.16, 0.05], edgeMm: 0.04, grain: 0.1, grainMm: 0.2 },
  ideal: { name: 'ideal black', absorb: [2, 2, 2], edgeMm: 0.04, grain: 0, grainMm: 1 },
} as const satisfies Record<string, Ink>
