import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'

/** A TrueType file with the letters of Latin, Greek, Cyrillic and some forty other scripts, for names on a printed sheet. */
export const wideFont = (): Promise<Uint8Array> =>
  readFile(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/ttf/DejaVuSans.ttf'))
