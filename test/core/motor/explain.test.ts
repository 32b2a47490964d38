import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { measure } from '#core/measure'
import type { Result } from '#core/report/result-schema'
import { traceOf } from '../report/measured.ts'

const sample = (name: string): Result => {
  const result = measure(traceOf(readFileSync(`samples/${name}`, 'utf8')))
  if ('kind' in result) throw new Error(JSON.stringify(result))
  return result
}

describe('a model that does not make what was measured', () => {
  it('says so: evenly merged commands are none of the rest model', () => {
    expect(sample('flap-1-can-stack.csv').warnings.join('\n')).toMatch(/Of 1\/4 steps, which were measured, the fitted model makes 1\.2\d effective microsteps where 1\.00 were found/)
  })
  it('and keeps quiet where it does', () => {
    expect(sample('pump-1-good-hybrid.csv').warnings.join('\n')).not.toMatch(/which were measured, the fitted model/)
  })
})
