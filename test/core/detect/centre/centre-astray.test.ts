import { describe, expect, it } from 'vitest'
import { centreAstray } from '#core/detect/no-trace'
import { combineCentres, type NamedCentre } from '#core/detect/centre/combine-centres'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { photoPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'

const at = (from: NamedCentre['from'], centre: Point, u: number): NamedCentre => ({ from, centre, covariance: [u * u, 0, u * u] })

describe('a centre given by hand beside where marks 100 px from it meet', () => {
  const marks = Array.from({ length: 20 }, () => ({ inner: 90, outer: 110 }) as FittedMark)
  const why = (...centres: readonly NamedCentre[]): string | undefined => centreAstray({ centre: combineCentres(centres), map: photoPlane, marks })?.what

  it('is refused with the place where they meet, whether it or the marks were set aside', () => {
    expect(why(at('given', [400, 300], 1.2), at('strokes', [300, 300], 1))).toContain('meet near 300, 300 px')
    expect(why(at('given', [400, 300], 1.2), at('strokes', [300, 300], 1), at('hole', [300, 301], 1))).toContain('meet near 300, 30')
  })

  it('stands where it is a little off, where the marks hardly tell, or where a hole alone says otherwise', () => {
    expect(why(at('given', [310, 300], 1.2), at('strokes', [300, 300], 1))).toBeUndefined()
    expect(why(at('given', [400, 300], 1.2), at('strokes', [300, 300], 80))).toBeUndefined()
    expect(why(at('given', [400, 300], 1.2), at('strokes', [400, 301], 1), at('hole', [300, 300], 1))).toBeUndefined()
  })

  it('is none where nobody gave it', () => {
    expect(why(at('strokes', [300, 300], 1), at('hole', [400, 300], 1))).toBeUndefined()
  })
})
