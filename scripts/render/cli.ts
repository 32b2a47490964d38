// Draws simulated photos with their truth: node scripts/run.mjs scripts/render/cli.ts --out DIR [--classes plain,hard] [--seeds 1-4] [--missing] [--size 4032x3024] [--exif]
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { compose } from './compose.ts'
import type { Shot } from './shot.ts'
import { take, writeTaken } from './take.ts'
import { DIFFICULTIES, type Difficulty } from './truth.ts'

const { values } = parseArgs({
  options: { out: { type: 'string' }, classes: { type: 'string', default: DIFFICULTIES.join() }, seeds: { type: 'string', default: '1-2' }, missing: { type: 'boolean', default: false }, size: { type: 'string' }, exif: { type: 'boolean', default: false } },
})
if (values.out === undefined) throw new TypeError('say where the photos go: --out DIR')

/** A photo that names its lens, as phones do: by the diagonal of film, 43.27 mm. */
const namingLens = (shot: Shot): Shot => {
  const { width, height, focalPx } = shot.scene.camera
  return { ...shot, encoding: { ...shot.encoding, lensMm: Math.round((43.27 * focalPx) / Math.hypot(width, height)) } }
}

const [from = 1, to = from] = values.seeds.split('-').map(Number)
const parts = values.size?.split('x').map(Number)
const size = parts === undefined ? null : ([parts[0] ?? Number.NaN, parts[1] ?? Number.NaN] as const)
const wanted = DIFFICULTIES.filter((name: Difficulty) => values.classes.split(',').includes(name))
for (const difficulty of wanted)
  for (let seed = from; seed <= to; seed++) {
    if (values.missing && existsSync(join(values.out, `${difficulty}-${seed}.truth.json`))) continue
    const start = performance.now()
    const shot = compose(seed, difficulty, size)
    const taken = await take(values.exif ? namingLens(shot) : shot)
    await writeTaken(values.out, taken)
    const { photo, marks } = taken.truth
    console.error(`${photo.file}: ${photo.width}×${photo.height}, ${marks.length} marks, ${((performance.now() - start) / 1000).toFixed(1)} s`)
  }
