import { describe, expect, it } from 'vitest'
import { readNeeds } from '#core/decide/compare/read-needs'

const names = { effective: 'effective', mode: 'mode', resolution: 'resolution', reversal: 'reversal' } as const

describe('a requirement in words', () => {
  it('asks for nothing when nothing is typed', () => expect(readNeeds({ effective: '', mode: undefined }, names)).toMatchObject({ requirement: { effective: null, mode: null, resolutionDeg: null, reversalDeg: null }, warnings: [] }))
  it('takes angles at the shaft as they are', () => expect(readNeeds({ resolution: '0.5 deg', reversal: '6 arcmin', effective: '3,5', mode: '4' }, names)).toMatchObject({ requirement: { effective: 3.5, mode: 4, resolutionDeg: 0.5, reversalDeg: expect.closeTo(0.1, 12) } }))
  // M4 coarse thread: 0.7 mm pitch (ISO 261).
  it('turns lengths at the carriage into angles at the shaft', () => expect(readNeeds({ resolution: '0.004 mm', train: 'screw M4' }, names)).toMatchObject({ requirement: { resolutionDeg: expect.closeTo((0.004 / 0.7) * 360, 9) } }))
  for (const [what, texts, where] of [
    ['a mode that is no whole number', { mode: '2.5' }, 'mode'],
    ['a count of zero', { effective: '0' }, 'effective'],
    ['a step of zero', { resolution: '0 deg' }, 'resolution'],
    ['a length without a train', { resolution: '0.02 mm' }, 'resolution'],
    ['less than nothing lost', { reversal: '-1 deg' }, 'reversal'],
    ['a train that cannot be read', { train: 'rope' }, 'drive train'],
  ] as const)
    it(`names ${what}`, () => expect(readNeeds(texts, names)).toMatchObject({ kind: 'unmeasurable', where }))
})
