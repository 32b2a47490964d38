import { mkdtempSync, rmSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { join, resolve } from 'node:path'
import { build } from 'esbuild'
import { Piscina } from 'piscina'

/** Many photos by one thread and by as many as there are cores. */
export interface ManyPhotos {
  readonly photos: number
  readonly threads: number
  readonly oneThreadS: number
  readonly allThreadsS: number
  /** Time of one thread / (threads · time of all): 1 when nothing is lost. */
  readonly efficiency: number
}

const worker = `import { readFile } from 'node:fs/promises'
import { detectPhoto } from '#adapters/photo/detect-photo'
export default async (path) => 'what' in await detectPhoto(await readFile(path))`

/** The pool's worker, bundled where its packages are found. */
const bundled = async (): Promise<{ readonly file: string; readonly folder: string }> => {
  const folder = mkdtempSync(resolve('node_modules/.ledger-'))
  const file = join(folder, 'worker.mjs')
  await build({ stdin: { contents: worker, resolveDir: resolve('src'), loader: 'ts' }, outfile: file, bundle: true, platform: 'node', format: 'esm', packages: 'external', logLevel: 'error', plugins: [{ name: 'own-source', setup: (b) => { b.onResolve({ filter: /^#/ }, ({ path }) => ({ path: resolve('src', `${path.slice(1)}.ts`) })) } }] })
  return { file, folder }
}

const timed = async (file: string, photos: readonly string[], threads: number): Promise<number> => {
  const pool = new Piscina({ filename: file, minThreads: threads, maxThreads: threads })
  // Each thread once beforehand, so that loading is not counted.
  await Promise.all(photos.slice(0, threads).map((photo) => pool.run(photo)))
  const started = performance.now()
  await Promise.all(photos.map((photo) => pool.run(photo)))
  const seconds = (performance.now() - started) / 1000
  await pool.destroy()
  return seconds
}

/** Finds marks in many copies of a photo, by one thread and by all cores. */
export const manyPhotos = async (photo: string, howMany: number): Promise<ManyPhotos> => {
  const { file, folder } = await bundled()
  try {
    const photos = Array.from({ length: howMany }, () => resolve(photo))
    const threads = availableParallelism()
    const oneThreadS = await timed(file, photos, 1)
    const allThreadsS = await timed(file, photos, threads)
    return { photos: howMany, threads, oneThreadS, allThreadsS, efficiency: oneThreadS / (threads * allThreadsS) }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
