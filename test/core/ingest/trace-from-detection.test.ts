import { describe, expect, it } from 'vitest'
import type { DetectedMark, Detection } from '#core/detect/detection'
import { traceFromDetection } from '#core/ingest/trace-from-detection'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const mark = (positionMm: number | null): DetectedMark => ({ angleDeg: null, uDeg: null, uOwnDeg: null, positionPx: 0, positionMm, uPosition: 0.02, uOwnPosition: 0.01, p0: [0, 0], p1: [0, 10], widthPx: 3, confidence: 1, multiplicity: 1 })

const strip = (places: readonly (number | null)[], rectificationUDeg: number): Detection => ({
  kind: 'detection', rig: 'mirror', widthPx: 100, heightPx: 100, centrePx: null, centreCovariancePx: null, centreUDeg: null, rectifiedBy: 'ruler', rectificationUDeg,
  pixelsPerMm: 5, cornersPx: null, marks: places.map(mark), refused: [], sheet: null, doubts: [],
})

const setUp = { stepsPerRev: 200, microsteps: 16, distanceMm: { value: 1000, u: 0 } } as const

describe('a strip’s photo as a trace', () => {
  it('carries the doubt of its scale: 0.1 % of ±50 and ±40 mm at 1 m is 45.28 µm rms, half as many µrad at the shaft (by hand)', () => {
    const trace = traceFromDetection(strip([0, 10, 90, 100], 0.001), setUp)
    if (isUnmeasurable(trace)) throw new Error(trace.what)
    expect(trace.common[0]?.uDeg).toBeCloseTo(0.00129708, 7)
  })

  it('halves nothing for a source on the shaft, and has none without a doubt', () => {
    const whole = traceFromDetection(strip([0, 10, 90, 100], 0.001), { ...setUp, ratio: 1 })
    const sure = traceFromDetection(strip([0, 10, 90, 100], 0), setUp)
    if (isUnmeasurable(whole) || isUnmeasurable(sure)) throw new Error('unmeasurable')
    expect(whole.common[0]?.uDeg).toBeCloseTo(0.00259417, 7)
    expect(sure.common).toEqual([])
  })

  it('keeps the foot in the marks’ own coordinate', () => {
    const trace = traceFromDetection(strip([0, 10, 90, 100], 0.001), { ...setUp, footMm: { value: 40, u: 1 } })
    expect(isUnmeasurable(trace) ? null : trace.rig).toMatchObject({ kind: 'mirror', footMm: { value: 40, u: 1 } })
  })

  it('is refused without a scale, with the hints that would give one', () => {
    const trace = traceFromDetection(strip([null, null], 0.05), setUp)
    expect(isUnmeasurable(trace) && trace.remedy).toMatch(/--scale.*|--tick.*/)
  })
})
