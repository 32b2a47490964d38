import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type DrawnStroke, drawRaster } from '../draw-raster.ts'

const SIZE = [1200, 400] as const
const places = Array.from({ length: 20 }, (_, n) => 120 + 46 * n + 7 * Math.sin(2.1 * n))

const strokes = (dark: (n: number) => number): DrawnStroke[] => places.map((x, n) => ({ from: [x, 160], to: [x, 230], width: 2, dark: dark(n) }))

const found = (drawn: readonly DrawnStroke[], noise: number, ground?: (x: number, y: number) => number): Detection => {
  const answer = detect(drawRaster(SIZE, drawn, { noise, seed: 5, ...(ground === undefined ? {} : { ground }) }), { rig: 'mirror' }, { sheet: null })
  if (isUnmeasurable(answer)) throw new Error(`${answer.what}: ${answer.remedy}`)
  return answer
}

const notRead = ({ doubts }: Detection): string[] => doubts.filter((d) => d.includes('not read'))

describe('a mark too faint for noisy paper', () => {
  const seen = found(strokes((n) => (n === 7 ? 20 : 80)), 10)

  it('is told with its place where it was not read', () => {
    expect(seen.marks).toHaveLength(19)
    expect(notRead(seen)).toHaveLength(1)
    expect(notRead(seen)[0]).toContain('what may be a mark was not read: between marks 7 and 8 (at 448,195')
  })
})

describe('a row of which all marks were read', () => {
  it('has none left out', () => {
    expect(notRead(found(strokes(() => 80), 10))).toEqual([])
  })

  it('nor is the paper’s end beside it one, nor a rule from edge to edge', () => {
    const rule: DrawnStroke = { from: [(places[11] as number) + 20, 5], to: [(places[11] as number) + 20, 395], width: 2, dark: 25 }
    const seen = found([...strokes(() => 80), rule], 2, (x) => (x > 1045 ? 90 : 225))
    expect(seen.marks).toHaveLength(20)
    expect(notRead(seen)).toEqual([])
  })
})
