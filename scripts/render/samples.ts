// Makes samples/: simulated traces and photos with their truth. npm run samples
import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { plainPhoto, sheetPhoto, stripPhoto } from './sample-photos.ts'
import { sampleTraces } from './sample-traces.ts'
import type { Shot } from './shot.ts'
import { take, writeTaken } from './take.ts'

const folder = 'samples'

const README = `# Samples

Everything here is **simulated** by \`npm run samples\`; no real motor was measured and no real photo was taken.

The story: volunteers of a small natural-history museum build a rail that moves a camera in small steps past pinned
insects, so that pictures sharp at different depths can be merged. The motors come out of skips: two 200-step hybrids from
laboratory pumps, one 48-step can-stack from a car heater flap.

| file | what it is | what should come out |
|---|---|---|
| \`pump-1-good-hybrid.csv\` | typed; mirror on the shaft, spot on a wall at 900 mm, 256 commands of 1/16 step | microsteps are real, down to what the rig can show |
| \`pump-2-mediocre-hybrid.csv\` | typed; the same rig, 128 commands of 1/8 step | uneven microsteps; coarser modes hold |
| \`flap-1-can-stack.csv\` | typed; 45 mm pointer, one turn of 192 quarter-step commands with tallies | three of four microsteps merge |
| \`flap-1-plain.jpg\` | the can-stack's turn on a plain A4 sheet | 48 marks; corners of the paper are in view |
| \`flap-1-sheet.jpg\` | the same motor on the printed sheet | 48 marks; the sheet's code carries the set-up |
| \`pump-1-strip.jpg\` | the good hybrid's spot on the printed strip, wall at 950 mm, 64 commands of 1/16 step | 65 marks with positions in mm |

Beside each photo, \`*.truth.json\` says what was drawn: motor, bearing (or position) of every mark as commanded and as the
ink shows it, its place in the upright photo, centre, corners, camera and sensor. Its \`note\` fixes the frames.
`

/** Photos are stored as a phone would, but light enough for a repository. */
const asJpeg = (shot: Shot, orientation: number): Shot => {
  const encoding = { format: 'jpeg', quality: 86, orientation, chroma: '4:2:0' } as const
  return { ...shot, encoding, truth: { ...shot.truth, photo: { ...shot.truth.photo, ...encoding } } }
}

await mkdir(folder, { recursive: true })
await writeFile(join(folder, 'README.md'), README)
for (const [name, text] of Object.entries(sampleTraces())) await writeFile(join(folder, name), text)
await writeTaken(folder, await take(asJpeg(plainPhoto(), 6), 'flap-1-plain'))
await writeTaken(folder, await take(asJpeg(sheetPhoto(), 1), 'flap-1-sheet'))
await writeTaken(folder, await take(asJpeg(stripPhoto(), 1), 'pump-1-strip'))
console.error(`samples/ made: ${Object.keys(sampleTraces()).length} typed traces, 3 photos`)
