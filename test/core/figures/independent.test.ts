import FFT from 'fft.js'
import { Matrix, solve } from 'ml-matrix'
import { mean as theirMean, rootMeanSquare, standardDeviation as populationDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { harmonicsOf } from '#core/figures/harmonics'
import { errorSize, positionErrors } from '#core/figures/position-errors'
import { fold } from '#core/figures/repeat-pattern'
import { linearLeastSquares } from '#core/numeric/least-squares'
import { normal, seededRandom } from '#core/numeric/seeded-random'

const random = seededRandom(9)
const commands = 128
const restsDeg = Array.from({ length: commands + 1 }, (_, k) => 1.875 * k + 0.3 * Math.sin((Math.PI / 2) * k + 0.4) + 0.2 * Math.sin((Math.PI / 4) * k) + 0.05 * normal(random))
const errors = positionErrors(restsDeg, 1.875)

describe('against independent libraries', () => {
  it('least squares: ml-matrix on the same columns, to 1e-10', () => {
    const columns = [1, 2, 3].map((power) => Array.from({ length: 50 }, (_, i) => (i / 50) ** power))
    const y = columns[0]?.map(() => normal(random)) ?? []
    const theirs = solve(new Matrix(columns).transpose(), Matrix.columnVector(y)).to1DArray()
    linearLeastSquares(columns, y)?.coefficients.forEach((value, i) => expect(value).toBeCloseTo(theirs[i] ?? 0, 10))
  })

  // 128 commands are eight whole electrical cycles of sixteen, so orders 1, 2 and 4 stand in bins 8, 16 and 32.
  it('harmonics: the Fourier transform of fft.js over whole cycles, amplitude and phase to 1e-12', () => {
    const fft = new FFT(commands)
    const spectrum = fft.createComplexArray()
    fft.realTransform(spectrum, errors.slice(1))
    for (const { order, amplitudeDeg, phaseDeg } of harmonicsOf(errors, { stepsPerRev: 48, microsteps: 4, withTurn: false })) {
      const bin = 8 * order
      const [re = 0, im = 0] = [spectrum[2 * bin], spectrum[2 * bin + 1]]
      expect(amplitudeDeg).toBeCloseTo((2 * Math.hypot(re, im)) / commands, 12)
      // Entry 0 of the transform is command 1; a cosine's phase ahead of a sine's is 90°.
      const phase = (Math.atan2(im, re) * 180) / Math.PI + 90 - (360 * bin) / commands
      expect(Math.cos(((phase - phaseDeg) * Math.PI) / 180)).toBeCloseTo(1, 9)
    }
  })

  it('means, spread and rms: simple-statistics', () => {
    const counted = errors.slice(1)
    expect(theirMean(counted)).toBeCloseTo(0, 12)
    expect(errorSize(errors).rmsDeg).toBeCloseTo(rootMeanSquare(counted), 12)
    const phase3 = counted.filter((_, i) => (i + 1) % 16 === 3)
    const folded = fold(errors, 16)
    expect(folded.meanDeg[3]).toBeCloseTo(theirMean(phase3), 12)
    expect(folded.spreadDeg[3]).toBeCloseTo(populationDeviation(phase3) * Math.sqrt(8 / 7), 12)
  })
})
