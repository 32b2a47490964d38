import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { compareDocuments } from '#core/report/replay/compare-documents'
import { toolVersion } from '#core/report/tool-version'

describe('two documents compared value by value', () => {
  it('are the same when every value is, in any order of keys', () => {
    const kept = { b: [1, null, 'x'], a: { c: true } }
    expect(compareDocuments(kept, { a: { c: true }, b: [1, null, 'x'] })).toEqual({ values: 4, differences: [], largestRelative: 0 })
  })

  it('say where and by how much', () => {
    const { differences, largestRelative } = compareDocuments({ f: { x: 2, y: [1, 'a'] } }, { f: { x: 2.5, y: [1, 'b'] } })
    expect(differences).toEqual([
      { path: 'f.x', kept: 2, now: 2.5, by: 0.5 },
      { path: 'f.y[1]', kept: 'a', now: 'b', by: null },
    ])
    expect(largestRelative).toBe(0.2)
  })

  it('name what stands on one side only, empty lists too', () => {
    expect(compareDocuments({ a: 1, l: [] }, { l: [3] }).differences.map(({ path }) => path)).toEqual(['a', 'l', 'l[0]'])
  })

  it('bit for bit at tolerance 0, within a relative tolerance else', () => {
    const next = 1 + Number.EPSILON
    expect(compareDocuments({ a: 1 }, { a: next }).differences).toHaveLength(1)
    expect(compareDocuments({ a: 1 }, { a: next }, 1e-12)).toMatchObject({ differences: [], largestRelative: Number.EPSILON / next })
  })
})

it('the version in a manifest is that of the package', () => {
  expect(toolVersion).toBe(JSON.parse(readFileSync('package.json', 'utf8')).version)
})
