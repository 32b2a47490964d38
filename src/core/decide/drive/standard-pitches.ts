/** Pitch per thread, mm, of ISO metric coarse threads by nominal diameter, mm (ISO 261/262, as three public charts agree). */
export const metricCoarse: ReadonlyMap<number, number> = new Map([
  [1.6, 0.35],
  [2, 0.4],
  [2.5, 0.45],
  [3, 0.5],
  [4, 0.7],
  [5, 0.8],
  [6, 1],
  [8, 1.25],
  [10, 1.5],
  [12, 1.75],
  [14, 2],
  [16, 2],
])

/** Listed pitches, mm, of ISO trapezoidal threads by nominal diameter, mm (ISO 2901 to 2904, public table of external sizes). */
export const trapezoidal: ReadonlyMap<number, readonly number[]> = new Map([
  [8, [1.5]],
  [9, [1.5, 2]],
  [10, [1.5, 2]],
  [11, [2, 3]],
  [12, [2, 3]],
  [14, [2, 3]],
  [16, [2, 3, 4]],
])

/** Tooth pitch, mm, of common synchronous belts by section (ISO 5296 inch sections, metric T and AT, curvilinear; suppliers' tables). */
export const beltPitches: ReadonlyMap<string, number> = new Map([
  ['MXL', 2.032],
  ['XL', 5.08],
  ['L', 9.525],
  ['H', 12.7],
  ['XH', 22.225],
  ['XXH', 31.75],
  ['T2.5', 2.5],
  ['T5', 5],
  ['T10', 10],
  ['T20', 20],
  ['AT5', 5],
  ['AT10', 10],
  ['AT20', 20],
  ['GT2', 2],
  ['GT3', 3],
  ['GT5', 5],
  ['HTD3', 3],
  ['HTD5', 5],
  ['HTD8', 8],
  ['HTD14', 14],
  ['HTD20', 20],
])
