import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { runDetect } from '#adapters/terminal/detect/run-detect'
import { runMeasure } from '#adapters/terminal/measure/run-measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const folder = mkdtempSync(join(tmpdir(), 'run-again-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const photo = 'samples/flap-1-plain.jpg'
const motor = { stepsPerRev: '48', microsteps: '4', paper: 'a4', motor: 'flap-1' }

describe('a command given twice puts its new folder in the place of its own earlier one', () => {
  it.each([
    ['detect', runDetect, ['detection.json', 'marks.csv', 'overlay.png', 'square-on.png']],
    ['measure', runMeasure, ['marks.csv', 'overlay.png', 'report.html', 'result.json']],
  ] as const)('%s of a photo', async (name, run, files) => {
    const out = join(folder, name)
    for (let turn = 0; turn < 2; turn++) expect(isUnmeasurable(await run(photo, { ...motor, out }))).toBe(false)
    expect(readdirSync(out)).toEqual(expect.arrayContaining([...files]))
  }, 60_000)
})
