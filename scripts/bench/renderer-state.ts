import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** A short name for the renderer's present source text: photos rendered by another state are not mixed in. */
export const rendererState = (): string => {
  const folder = 'scripts/render'
  const hash = createHash('sha256')
  for (const file of readdirSync(folder).sort()) if (!file.startsWith('sample')) hash.update(readFileSync(join(folder, file)))
  return hash.digest('hex').slice(0, 10)
}
