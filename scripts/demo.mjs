// npm run demo: from a fresh checkout to evidence, for one typed trace and one photo of the samples.
import { join, resolve } from 'node:path'
import { installed, run } from './set-up.mjs'

const root = resolve(import.meta.dirname, '..')
const samples = [
  { title: 'a typed trace', file: 'samples/skip-1-heater-flap.csv', out: 'out/heater-flap' },
  { title: 'a photo', file: 'samples/skip-1-heater-flap.jpg', out: 'out/heater-flap-photo', options: ['--steps-per-rev', '48', '--microsteps', '4', '--paper', 'a4'] },
]

installed()
console.error('build: dist/')
run(process.execPath, ['scripts/build.mjs'])
for (const { title, file, out, options = [] } of samples) {
  console.log(`\n── ${title}: stepwitness measure ${[file, ...options].join(' ')} --out ${out}\n`)
  run(process.execPath, ['dist/main.js', 'measure', file, ...options, '--out', out])
}
console.log('\nThe evidence lies in:')
for (const { out } of samples) console.log(`  ${join(root, out, 'report.html')}`)
