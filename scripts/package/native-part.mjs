// The picture library's own text is bundled: to find and read its sixty small files costs 0.04 s of CPU each time it is loaded.
import { readFileSync } from 'node:fs'

const here = 'createRequire(import.meta.url)'

/** Has the bundled library ask for its native part, as it does itself, from where the package is installed. */
export const nativePartInstalled = {
  name: 'native-part-installed',
  setup: (b) =>
    b.onLoad({ filter: /sharp[\\/]dist[\\/](sharp|utility)\.mjs$/ }, ({ path }) => {
      const text = readFileSync(path, 'utf8')
      if (text.split(here).length !== 2) throw new Error(`${path} no longer asks for the native part where it did: look at how it is loaded again`)
      return { contents: text.replace(here, `createRequire(${here}.resolve('sharp'))`), loader: 'js' }
    }),
}
