import { robustFit } from '#core/numeric/robust-fit'
import { seededRandom } from '#core/numeric/seeded-random'
import { describe, expect, it } from 'vitest'

const FREE = Number.POSITIVE_INFINITY
const nothing = { usual: { scatter: 1, worth: 0 } } as const

const normals = (seed: number, count: number): number[] => {
  const random = seededRandom(seed)
  return Array.from({ length: count }, () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()))
}

const line = (count: number): number[][] => Array.from({ length: count }, (_, i) => [1, i / count - 0.5])

describe('least squares with Tukey’s biweight', () => {
  it('goes through points of a line, whatever a few others do', () => {
    const rows = line(20)
    const fit = robustFit(rows, rows.map(([, x = 0], i) => 3 - 2 * x + (i % 7 === 3 ? 50 : 0)), { usual: { scatter: 0.01, worth: 1 }, expected: [FREE, FREE] })
    expect(fit?.coefficients[0]).toBeCloseTo(3, 6)
    expect(fit?.coefficients[1]).toBeCloseTo(-2, 6)
  })

  // Brownlee's stack loss data (1965), 21 days of an ammonia plant; M-estimate with Tukey's biweight (c = 4.685): −42.285, 0.928, 0.651, −0.112
  // as published with R's MASS (rlm, psi.bisquare); from memory.
  it('agrees with the published biweight fit of the stack loss data', () => {
    const air = [80, 80, 75, 62, 62, 62, 62, 62, 58, 58, 58, 58, 58, 58, 50, 50, 50, 50, 50, 56, 70]
    const water = [27, 27, 25, 24, 22, 23, 24, 24, 23, 18, 18, 17, 18, 19, 18, 18, 19, 19, 20, 20, 20]
    const acid = [89, 88, 90, 87, 87, 87, 93, 93, 87, 80, 89, 88, 82, 93, 89, 86, 72, 79, 80, 82, 91]
    const loss = [42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15]
    const fit = robustFit(air.map((a, i) => [1, a, water[i] ?? 0, acid[i] ?? 0]), loss, { ...nothing, expected: [FREE, FREE, FREE, FREE] })
    const [constant, perAir, perWater, perAcid] = fit?.coefficients ?? []
    expect(constant).toBeCloseTo(-42.285, 2)
    expect(perAir).toBeCloseTo(0.928, 3)
    expect(perWater).toBeCloseTo(0.651, 3)
    expect(perAcid).toBeCloseTo(-0.112, 3)
  })

  // Tukey's constant 4.685 is chosen for 95 % efficiency under the normal law (Holland & Welsch, Comm. Statist. A6 (1977) 813).
  it('costs 5 % more variance than least squares under the normal law, and says so', () => {
    const rows = line(60)
    const fits = Array.from({ length: 300 }, (_, seed) => robustFit(rows, normals(seed + 1, 60), { ...nothing, expected: [FREE, FREE] }))
    const means = fits.map((fit) => fit?.coefficients[0] ?? Number.NaN)
    const found = means.reduce((sum, v) => sum + v * v, 0) / means.length
    const stated = fits.reduce((sum, fit) => sum + (fit?.covariance[0]?.[0] ?? Number.NaN), 0) / fits.length
    // 300 draws know a variance to 8 %.
    expect(found * 60).toBeGreaterThan(0.9)
    expect(found * 60).toBeLessThan(1.25)
    expect(stated / found).toBeGreaterThan(0.8)
    expect(stated / found).toBeLessThan(1.25)
  })

  it('is drawn to what is expected of a coefficient as a value of that spread would draw it', () => {
    // One value 6 of scatter 1, expected 0 ± 1 scatter: the mean of four equal values and the one belief, 4·6/5.
    const fit = robustFit([[1], [1], [1], [1]], [6, 6, 6, 6], { usual: { scatter: 1, worth: 1000 }, expected: [1] })
    expect(fit?.coefficients[0]).toBeCloseTo((0.8 * 6), 0)
  })

  it('needs more values than free coefficients, and rows that tell them apart', () => {
    expect(robustFit(line(2), [1, 2], { ...nothing, expected: [FREE, FREE] })).toBeNull()
    expect(robustFit([[1, 1], [1, 1], [1, 1]], [1, 2, 3], { ...nothing, expected: [FREE, FREE] })).toBeNull()
  })
})
