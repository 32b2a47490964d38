import { describe, expect, it } from 'vitest'
import { hintsOf } from '#adapters/terminal/hint-options'

describe('decimal commas in what is told about a photo', () => {
  it('a number by itself has one', () => {
    expect(hintsOf({ tick: '0,5 mm' })).toMatchObject({ tickMm: 0.5 })
    expect(hintsOf({ paper: '215,9x279,4' })).toMatchObject({ paperMm: [215.9, 279.4] })
  })

  it('numbers in a list have one where semicolons part them', () => {
    expect(hintsOf({ centre: '120,5; 80,25' })).toMatchObject({ centrePx: [120.5, 80.25] })
    expect(hintsOf({ centre: '120.5,80.25' })).toMatchObject({ centrePx: [120.5, 80.25] })
  })

  it('where commas part them, too, that is the cure', () => {
    expect(hintsOf({ centre: '120,5,80,25' })).toMatchObject({ kind: 'unmeasurable', remedy: expect.stringContaining('semicolons') })
  })
})
