import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { embeddable } from '#core/report/html/embeddable'

/** Where the minified library lies, seen from a bundle in dist/, one in dist/parts/, a script bundled on the way, and from this file in src/. */
const built = ['./assets/plotly.min.js', '../assets/plotly.min.js', '../../dist/assets/plotly.min.js', '../../../dist/assets/plotly.min.js']

const firstOf = async (urls: readonly URL[]): Promise<string | null> => {
  for (const url of urls) {
    const text = await readFile(url, 'utf8').catch(() => null)
    if (text !== null) return text
  }
  return null
}

let kept: Promise<string> | null = null

const read = async (): Promise<string> => {
  const minified = await firstOf(built.map((path) => new URL(path, import.meta.url)))
  return embeddable(minified ?? (await readFile(createRequire(import.meta.url).resolve('plotly.js-dist'), 'utf8')))
}

/** The plotting library as the text of one script element; read once. Minified where the project has been built. */
export const plotlyScript = (): Promise<string> => (kept ??= read())
