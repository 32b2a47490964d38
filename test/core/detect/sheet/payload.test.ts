import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decodePayload, encodePayload, fitName, nameBytes, type SheetPayload } from '#core/detect/sheet/payload'
import { sheetVersions } from '#core/detect/sheet/sheet-version'

const payloads: fc.Arbitrary<SheetPayload> = fc
  .record({
    version: fc.constantFrom(...sheetVersions),
    rig: fc.constantFrom('pointer' as const, 'mirror' as const),
    paper: fc.constantFrom('a4' as const, 'letter' as const),
    page: fc.integer({ min: 0, max: 98 }),
    pages: fc.integer({ min: 1, max: 99 }),
    lengthMm: fc.integer({ min: 1, max: 999_980 }).map((tenths) => tenths / 10),
    stepsPerRev: fc.option(fc.integer({ min: 1, max: 100_000 })),
    microsteps: fc.option(fc.integer({ min: 1, max: 65_536 })),
    barMm: fc.integer({ min: 5000, max: 20_000 }).map((hundredths) => hundredths / 100),
    motor: fc.string({ unit: 'binary', maxLength: 80 }).map(fitName),
  })

const example: SheetPayload = {
  version: 2, rig: 'pointer', paper: 'a4', page: 0, pages: 1, lengthMm: 80, stepsPerRev: 200, microsteps: 16, barMm: 99.2, motor: 'rail-2: lab pump',
}

describe('sheet code text', () => {
  it('is written out as documented, the name last with its colons', () => {
    expect(encodePayload(example)).toBe('SWS2:P:A:1/1:80:200:16:99.2:rail-2: lab pump')
  })

  it('gives back every set-up that goes in', () => {
    fc.assert(fc.property(payloads, (payload) => {
      expect(decodePayload(encodePayload(payload))).toEqual(payload)
    }), { seed: 11 })
  })

  it('is read as it was on sheets of the first version', () => {
    expect(decodePayload('SWS1:P:A:1/1:80:200:16:99.2:rail-2: lab pump')).toEqual({ ...example, version: 1 })
  })

  it('never throws on a foreign text, and says why', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect(decodePayload(text)).toMatchObject({ kind: 'bad-code', why: expect.any(String) })
    }), { seed: 12 })
  })

  it('refuses damaged codes of its own kind', () => {
    for (const text of ['SWS1', 'SWS1:P:A:0/1:80:200:16:100:', 'SWS1:P:A:1/1:1e9:200:16:100:', 'SWS1:X:A:1/1:80:200:16:100:', 'SWS1:P:A:1/1:80:0:16:100:', 'SWS1:P:A:1/1:80:200:16:9:', 'SWS1:P:A:1/1:80:2x:16:100:']) {
      expect(decodePayload(text)).toMatchObject({ kind: 'bad-code' })
    }
  })

  it('says so when the sheet is of a later version', () => {
    expect(decodePayload('SWS3:whatever')).toMatchObject({ why: expect.stringContaining('version 3') })
  })
})

describe('names', () => {
  it('lose control characters, direction overrides and halves of surrogate pairs, and stay within the code', () => {
    expect(fitName('rail\u0000-2\n\u202e x\ud800')).toBe('rail -2 x')
    expect(fitName('é'.repeat(100))).toBe('é'.repeat(nameBytes / 2))
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (name) => {
      const fit = fitName(name)
      expect(new TextEncoder().encode(fit).length).toBeLessThanOrEqual(nameBytes)
      expect(fitName(fit)).toBe(fit)
    }), { seed: 13 })
  })
})
