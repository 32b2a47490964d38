import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { blocksIn } from '#core/report/note/note-markers'
import { seededRandom } from '#core/numeric/seeded-random'
import { runTime } from '../../../scripts/kill/kill-after.ts'
import { killNote } from '../../../scripts/kill/kill-note.ts'
import { sampleResult } from '../../core/report/note/sample-result.ts'
import { type BundledCommand, bundleCommand } from './bundled-command.ts'

const folder = mkdtempSync(join(tmpdir(), 'note-kill-'))
const result = join(folder, 'result.json')
let command: BundledCommand
beforeAll(async () => {
  command = await bundleCommand('note', 'addNote')
  writeFileSync(result, JSON.stringify(sampleResult('flap')))
}, 120_000)
afterAll(() => {
  command.remove()
  rmSync(folder, { recursive: true, force: true })
})

it('note killed at 25 random moments: every state is the old or the new one, and a later run goes through', { timeout: 120_000 }, async () => {
  const { old, fresh, neither } = await killNote([command.path, 'note'], { folder, result, moments: 25, random: seededRandom(5) })
  expect({ neither, all: old + fresh }).toEqual({ neither: [], all: 25 })
  await runTime([command.path, 'note', join(folder, 'killed.md'), result, '--test', 'last'])
  const places = blocksIn(readFileSync(join(folder, 'killed.md'), 'utf8'))
  expect(Array.isArray(places) && places.at(-1)?.key).toBe('last')
})
