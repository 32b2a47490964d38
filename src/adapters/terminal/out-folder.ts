import { extname } from 'node:path'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

const ofFiles = new Set(['.csv', '.tsv', '.txt', '.json', '.png', '.jpg', '.svg', '.html', '.md'])

/** A folder named as a file is was hardly meant: said before anything is made. @param holds what the folder will hold */
export const wrongFolder = (out: string | undefined, holds: string): Unmeasurable | null =>
  out === undefined || !ofFiles.has(extname(out).toLowerCase())
    ? null
    : unmeasurable(`"${out}" is named as a file, but a folder with ${holds} is written there`, '--out', `give a folder, such as --out ${out.slice(0, -extname(out).length) || 'marks'}`)
