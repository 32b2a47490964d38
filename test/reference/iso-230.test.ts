import { describe, expect, it } from 'vitest'
import { axisFigures } from '#core/figures/iso-230'

// Formulas: ISO 230-2:2006, 2.10–2.24 as labelled in a public transcription. The set itself is made up for this check and
// worked by hand: every s is √0.025, means 0.5 1.2 2.1 1.5 1.0 and −0.5 0.2 1.0 0.2 0.0.
const forward = [
  [0.4, 0.6, 0.5, 0.3, 0.7],
  [1.2, 1.0, 1.1, 1.4, 1.3],
  [2.0, 2.3, 2.1, 2.2, 1.9],
  [1.5, 1.6, 1.4, 1.3, 1.7],
  [0.9, 1.1, 1.0, 0.8, 1.2],
]
const backward = [
  [-0.6, -0.4, -0.5, -0.7, -0.3],
  [0.2, 0.1, 0.0, 0.3, 0.4],
  [0.8, 1.1, 0.9, 1.2, 1.0],
  [0.1, 0.3, 0.2, 0.0, 0.4],
  [-0.1, 0.2, 0.0, 0.1, -0.2],
]

describe('ISO 230-2 figures of five targets, five runs each way', () => {
  const figures = axisFigures(forward, backward)
  it('reversal B = 1.3, mean reversal 1.08', () => {
    expect(figures.reversal).toBeCloseTo(1.3, 12)
    expect(figures.meanReversal).toBeCloseTo(1.08, 12)
  })
  it('systematic E↑ = 1.6, E↓ = 1.5, E = 2.6, mean bidirectional M = 1.55', () => {
    expect([figures.systematicForward, figures.systematicBackward, figures.systematic, figures.meanDeviation].map((v) => Number(v.toFixed(12)))).toEqual([1.6, 1.5, 2.6, 1.55])
  })
  it('repeatability R↑ = R↓ = 0.6325, R = 1.9325; accuracy A↑ = 2.2325, A↓ = 2.1325, A = 3.2325', () => {
    expect(figures.spread?.repeatabilityForward).toBeCloseTo(0.632455532033676, 12)
    expect(figures.spread?.repeatabilityBackward).toBeCloseTo(0.632455532033676, 12)
    expect(figures.spread?.repeatability).toBeCloseTo(1.932455532033676, 12)
    expect(figures.spread?.accuracyForward).toBeCloseTo(2.232455532033676, 12)
    expect(figures.spread?.accuracyBackward).toBeCloseTo(2.132455532033676, 12)
    expect(figures.spread?.accuracy).toBeCloseTo(3.232455532033676, 12)
  })
})

// Sensors 24 (2024) 1400, Table 6 ("detection data of matrix encoder"), arcseconds, 24 positions 15° apart, one run each way;
// the figures follow from the formulas above.
describe('published angular errors, one run each way', () => {
  const up = [0, 2.5, 3.1, -2.4, 2.3, -1.2, 2.3, 3.4, 2.2, -1.9, 1.6, 2.5, -1.8, 2.1, 3.5, -2.4, 2.6, 3.1, -2.6, 2.7, 3.9, -2.6, 3.1, 2.2]
  const down = [0, 3.2, 2.6, -2.5, -1.8, 3.1, -2.6, 3.7, 2, 2.4, -3.5, 1.9, -2.2, 1.8, 2.3, -1.6, -2.1, 3.2, -2.8, 3.4, 3.2, 2.6, -1.2, 3.3]
  const figures = axisFigures(up.map((x) => [x]), down.map((x) => [x]))
  it('E↑ 6.5, E↓ 7.2, E 7.4, M 6.25, B 5.2, mean reversal +0.408333', () => {
    expect(figures.systematicForward).toBeCloseTo(6.5, 12)
    expect(figures.systematicBackward).toBeCloseTo(7.2, 12)
    expect(figures.systematic).toBeCloseTo(7.4, 12)
    expect(figures.meanDeviation).toBeCloseTo(6.25, 12)
    expect(figures.reversal).toBeCloseTo(5.2, 12)
    expect(figures.meanReversal).toBeCloseTo(0.408333, 6)
  })
  it('refuses repeatability and accuracy from a single run', () => {
    expect(figures.spread).toBeNull()
  })
})
