// npm run demo: from a fresh checkout to evidence, for one typed trace and one photo of the samples.
import { join, resolve } from 'node:path'
import { installed, run } from './set-up.mjs'

const root = resolve(import.meta.dirname, '..')
const samples = [
  { title: 'a typed trace, with the screw it might turn', file: 'samples/flap-1-can-stack.csv', out: 'out/flap-1', options: ['--train', 'screw M4'] },
  { title: 'a photo of the printed sheet, which says itself what it shows', file: 'samples/flap-1-sheet.jpg', out: 'out/flap-1-photo' },
]

installed()
console.error('build: dist/')
run(process.execPath, ['scripts/build.mjs'])
for (const { title, file, out, options = [] } of samples) {
  console.log(`\n── ${title}\n   stepwitness measure ${[file, ...options.map((word) => (word.includes(' ') ? `"${word}"` : word))].join(' ')} --out ${out}\n`)
  run(process.execPath, ['dist/main.js', 'measure', file, ...options, '--out', out])
}
console.log('\nThe evidence lies in:')
for (const { out } of samples) console.log(`  ${join(root, out, 'report.html')}`)
