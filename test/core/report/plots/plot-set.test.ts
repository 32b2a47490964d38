import { describe, expect, it } from 'vitest'
import { plotSet } from '#core/report/plots/plot-set'
import { measured, sixteen, threeOfFour } from '../measured.ts'

interface Axis {
  readonly title?: { readonly text: string }
}

describe('plots', () => {
  const plots = plotSet(measured(threeOfFour))

  it('come in the order of the report', () => {
    expect(plots.map(({ id }) => id)).toEqual(['dial', 'rails', 'position-error', 'increments', 'repeat-pattern', 'modes', 'harmonics'])
  })

  it('are plain data: writing and reading them as JSON changes nothing', () => {
    expect(JSON.parse(JSON.stringify(plots))).toEqual(plots)
  })

  it('name quantity and unit on their axes', () => {
    const titles = Object.fromEntries(plots.map(({ id, layout }) => [id, [layout['xaxis'], layout['yaxis']].map((axis) => (axis as Axis).title?.text ?? '')]))
    expect(titles['position-error']?.[0]).toMatch(/^command k \(1 microstep = [\d.]+°\)$/)
    expect(titles['position-error']?.[1]).toBe('position error at the shaft, deg')
    expect(titles['increments']).toEqual(['command k', 'increment, microsteps'])
    expect(titles['repeat-pattern']).toEqual(['command in the cycle, microsteps', 'mean position error, deg'])
    expect(titles['dial']?.[0]).toBe('angle at the shaft, deg')
    expect(titles['harmonics']?.[1]).toBe('amplitude, deg')
  })

  it('tell kinds apart by symbol as well as colour', () => {
    const increments = plots.find(({ id }) => id === 'increments')
    const symbols = increments?.data.map(({ name, marker }) => [String(name).split(':')[0], (marker as { readonly symbol: string }).symbol])
    expect(symbols).toEqual([['moved', 'circle'], ['merged', 'square-open'], ['missing position', 'x-thin']])
  })

  it('every command is there, none thinned out', () => {
    const error = plots.find(({ id }) => id === 'position-error')?.data.at(-1)
    expect(error?.['y']).toHaveLength(96)
  })
})

it('a pattern needs a whole electrical cycle', () => {
  const result = measured(sixteen)
  const short = { ...result, rests: result.rests.slice(0, 10) }
  expect(plotSet(short).map(({ id }) => id)).not.toContain('repeat-pattern')
})
