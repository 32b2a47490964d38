// Kills the built command's `measure`, `note` and `pace` without warning at random moments, and says what state that left.
// Usage: node scripts/run.mjs scripts/kill.ts [moments, 100 if not said] [seed]
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { seededRandom } from '#core/numeric/seeded-random'
import { runTime } from './kill/kill-after.ts'
import { killMeasure } from './kill/kill-measure.ts'
import { killNote } from './kill/kill-note.ts'
import { killPace } from './kill/kill-pace.ts'

const [moments = 100, seed = 1] = process.argv.slice(2).map(Number)
const folder = mkdtempSync(join(tmpdir(), 'kill-'))
const random = seededRandom(seed)
const trace = 'samples/flap-1-can-stack.csv'
await runTime(['dist/main.js', 'measure', trace, '--out', join(folder, 'evidence')])
const measure = await killMeasure(['dist/main.js'], { folder, trace, moments, random })
const note = await killNote(['dist/main.js', 'note'], { folder, result: join(folder, 'evidence'), moments, random })
const pace = await killPace(['dist/main.js', 'pace'], { folder, moments, random })
rmSync(folder, { recursive: true, force: true })
const counts = { measure, note, pace }
for (const [name, count] of Object.entries(counts)) {
  console.log(`${name}: killed at ${count.moments} moments; ${count.old} left the old state, ${count.fresh} the new one, ${count.neither.length} neither`)
  for (const each of count.neither) console.log(`  ${each}`)
}
process.exitCode = Object.values(counts).some(({ neither }) => neither.length > 0) ? 1 : 0
