import { describe, expect, it } from 'vitest'
import type { DetectedMark, Detection } from '#core/detect/detection'
import { detectionText } from '#core/report/detection-text'

const markAt = (angleDeg: number): DetectedMark => {
  const at = (radius: number) => [500 + radius * Math.cos((angleDeg * Math.PI) / 180), 500 - radius * Math.sin((angleDeg * Math.PI) / 180)] as const
  return { angleDeg, uDeg: 0.1, uOwnDeg: 0.01, positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null, p0: at(280), p1: at(320), widthPx: 3, confidence: 0.97, multiplicity: 1 }
}

/** Marks 10° apart at 300 px, the centre known to so many px along each axis. */
const seen = ({ turnDeg, uPx, centreUDeg }: { readonly turnDeg: number; readonly uPx: number; readonly centreUDeg: number }): Detection => ({
  kind: 'detection', rig: 'pointer', widthPx: 1000, heightPx: 1000, centrePx: [500, 500], centreCovariancePx: [uPx ** 2, 0, uPx ** 2], centreUDeg, rectifiedBy: 'paper', rectificationUDeg: 0.02, pixelsPerMm: 5, cornersPx: null, plane: null,
  marks: Array.from({ length: turnDeg / 10 }, (_, i) => markAt(10 * i)), refused: [], sheet: null, doubts: [],
})

const centreLine = (detection: Detection): string => detectionText(detection).split('\n').find((line) => line.startsWith('shaft centre')) ?? ''

describe('what detect says of the shaft’s centre', () => {
  it('is how far it is known and what moving it that far does', () => {
    expect(centreLine(seen({ turnDeg: 90, uPx: 2, centreUDeg: 0.11 }))).toContain('shaft centre at 500.0, 500.0 px, known to 0.40 mm (2.0 px): moving it that far bends the angles by 0.11°')
  })

  it('has a cure where that bends part of a turn by more than the marks are placed to: pointing at it only where a hand does better', () => {
    expect(centreLine(seen({ turnDeg: 90, uPx: 2, centreUDeg: 0.11 }))).toMatch(/known better with marks all round.*the printed sheet$/)
    expect(centreLine(seen({ turnDeg: 90, uPx: 6, centreUDeg: 0.3 }))).toMatch(/or its place given with --centre$/)
    expect(centreLine(seen({ turnDeg: 90, uPx: 2, centreUDeg: 0.015 }))).not.toContain('better')
    expect(centreLine(seen({ turnDeg: 360, uPx: 2, centreUDeg: 0.11 }))).not.toContain('better')
  })
})
