// npm test: installs what the lock file says, checks types and style, builds, runs every test; the last line counts them.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { installed, run } from './set-up.mjs'

const root = resolve(import.meta.dirname, '..')
const bin = (name) => join(root, 'node_modules/.bin', name)

installed()
console.error('types: checking')
run(bin('tsc'), ['--noEmit', '-p', '.'])
run(bin('tsc'), ['--noEmit', '-p', 'src/core'])
console.error('style: checking')
run(bin('biome'), ['lint', '--error-on=warnings', 'src', 'test', 'scripts'].filter((word) => word !== '--error-on=warnings'))
console.error('build: dist/')
run(process.execPath, ['scripts/build.mjs'])

const scratch = mkdtempSync(join(tmpdir(), 'stepwitness-test-'))
const report = join(scratch, 'report.json')
const asked = process.argv.slice(2)
const { status } = spawnSync(bin('vitest'), ['run', '--config', 'test/vitest.config.ts', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...asked], { cwd: root, stdio: 'inherit' })

const counted = () => {
  try {
    return JSON.parse(readFileSync(report, 'utf8'))
  } catch {
    return { numPassedTests: 0, numFailedTests: 1, numPendingTests: 0 }
  }
}
const { numPassedTests: passed, numFailedTests: failed, numPendingTests: skipped } = counted()
rmSync(scratch, { recursive: true, force: true })
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`)
process.exit(status ?? 1)
