import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { estranges } from '#core/detect/dial/complete'
import { strokeBetween } from '#core/detect/stroke/stroke-model'
import { describe, expect, it } from 'vitest'

const fitAt = (x: number): StrokeFit => ({ model: strokeBetween([x, 0], [x, 30], { halfWidth: 1, sigma: 1, amplitudes: [80, 80] }), noise: 3, uOffset: 0.02, outliers: 0, clumping: 1, paper: 200 })
const markOf = (fit: StrokeFit): FittedMark => ({ fit, bearing: 0, inner: 100, outer: 130, lean: 0, widthPx: 2, contrast: 0.4 })
const marks = Array.from({ length: 20 }, (_, i) => markOf(fitAt(10 * i)))
const read = Array.from({ length: 9 }, (_, i) => fitAt(3 * i))

describe('a joint reading', () => {
  it('stands when the marks it left alone are still marks, but for one that was odd before', () => {
    const untouched = marks.slice(3)
    const fits = [...untouched.map((m) => m.fit), ...read]
    expect(estranges(marks, fits, fits.map(markOf))).toBe(false)
    expect(estranges(marks, fits, fits.slice(1).map(markOf))).toBe(false)
  })

  it('falls when they no longer look like marks beside what it read', () => {
    const fits = [...marks.slice(3).map((m) => m.fit), ...read]
    expect(estranges(marks, fits, read.map(markOf))).toBe(true)
  })

  it('is not asked about marks that it took apart', () => {
    expect(estranges(marks, read, read.map(markOf))).toBe(false)
  })

  it('is not asked about a mark whose ink a stroke that stayed runs through', () => {
    const untouched = marks.slice(3)
    const fits = [...untouched.map((m) => m.fit), ...read]
    const kept = [...untouched.slice(6).map((m) => markOf(m.fit)), ...untouched.slice(0, 6).map((m) => markOf({ ...m.fit }))]
    expect(estranges(marks, fits, kept)).toBe(false)
  })
})
