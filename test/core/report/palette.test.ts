import { describe, expect, it } from 'vitest'
import { palette } from '#core/report/palette'

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
const luminance = (hex: string): number => {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

const contrast = (one: string, other: string): number => {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].toSorted((a, b) => a - b)
  return (light + 0.05) / (dark + 0.05)
}

it('black on white is 21 : 1, as the standard says', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6)
})

describe('what carries meaning stands at 3 : 1 or better on both papers', () => {
  for (const name of ['nominal', 'moved', 'merged', 'reversed', 'missing', 'limit'] as const)
    it(name, () => {
      expect(contrast(palette[name], palette.paper)).toBeGreaterThanOrEqual(3)
      expect(contrast(palette[name], palette.darkPaper)).toBeGreaterThanOrEqual(3)
    })
})

it('words stand at 4.5 : 1 or better on their paper', () => {
  for (const ink of [palette.ink, palette.quiet]) expect(contrast(ink, palette.paper)).toBeGreaterThanOrEqual(4.5)
  for (const ink of [palette.darkInk, palette.darkQuiet]) expect(contrast(ink, palette.darkPaper)).toBeGreaterThanOrEqual(4.5)
})
