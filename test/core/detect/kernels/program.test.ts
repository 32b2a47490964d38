import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { compiled } from '../../../../scripts/kernels/compiled.ts'

describe('what is compiled ahead', () => {
  it('is what its source says: node scripts/kernels/compiled.ts', async () => {
    expect(await compiled()).toBe(readFileSync('src/core/detect/kernels/program.ts', 'utf8'))
  })
})
