import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { encode } from './encode.ts'
import { photograph } from './photograph.ts'
import type { Shot } from './shot.ts'
import type { Truth } from './truth.ts'

export interface Taken {
  readonly bytes: Buffer
  readonly truth: Truth
}

const EXTENSIONS = { jpeg: 'jpg', png: 'png', webp: 'webp' } as const

/** Takes a photo and names it after its class and seed. */
export const take = async (shot: Shot, stem = `${shot.truth.difficulty}-${shot.truth.seed}`): Promise<Taken> => {
  const bytes = await encode(photograph(shot.scene, shot.sensor), shot.encoding)
  const file = `${stem}.${EXTENSIONS[shot.encoding.format]}`
  return { bytes, truth: { ...shot.truth, photo: { ...shot.truth.photo, file } } }
}

const rounded = (_: string, value: unknown): unknown =>
  typeof value === 'number' && !Number.isInteger(value) ? Number(value.toPrecision(10)) : value

/** Photo and truth side by side in a folder. */
export const writeTaken = async (folder: string, { bytes, truth }: Taken): Promise<void> => {
  await mkdir(folder, { recursive: true })
  await writeFile(join(folder, truth.photo.file), bytes)
  await writeFile(join(folder, truth.photo.file.replace(/\.\w+$/, '.truth.json')), `${JSON.stringify(truth, rounded, 1)}\n`)
}
