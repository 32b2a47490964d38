// Does reading many photos in one process hold memory? Each is read and forgotten; every twentieth line says what is held.
// node scripts/run.mjs scripts/bench/photo-memory.ts DIR [COUNT]   (DIR: photos, as bench:detect leaves them; taken in turn)
// The heap says what the tool holds. Resident memory also counts what the C library keeps for each thread: MALLOC_ARENA_MAX=2 before the command leaves that out.
import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { detectPhoto } from '#adapters/photo/detect-photo'

const EVERY = 20

// What nobody holds any more is let go of first, so that what is left is held.
setFlagsFromString('--expose-gc')
const collect = runInNewContext('gc') as () => void

const mebibytes = (bytes: number): string => `${(bytes / 2 ** 20).toFixed(1)} MiB`

const [folder, count = '200'] = process.argv.slice(2)
if (folder === undefined) throw new Error('which folder of photos?')
const photos = (await readdir(folder)).filter((name) => /\.(jpe?g|png|webp)$/.test(name)).sort()
for (let n = 1; n <= Number(count); n++) {
  await detectPhoto(await readFile(join(folder, photos[n % photos.length] as string)))
  if (n % EVERY !== 0) continue
  collect()
  const { rss, heapUsed, external } = process.memoryUsage()
  console.log(`${n} photos: resident ${mebibytes(rss)}, heap ${mebibytes(heapUsed)}, outside it ${mebibytes(external)}`)
}
