import { areBundles, bundleDoubtPx } from '#core/detect/dial/dial-doubts'
import { describe, expect, it } from 'vitest'

describe('strokes wider than a pen draws', () => {
  it('are bundles from 2 mm on, where a millimetre is known', () => {
    expect(areBundles(8.1, 4)).toBe(true)
    expect(areBundles(7.9, 4)).toBe(false)
    expect(areBundles(800, null)).toBe(false)
  })

  it('leave a rest anywhere across their ink: an even spread, width over √12 (JCGM 100, 4.3.7)', () => {
    expect(bundleDoubtPx(6)).toBeCloseTo(Math.sqrt(3), 12)
  })
})
