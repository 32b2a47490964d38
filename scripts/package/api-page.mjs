// dist/api.md: every function of the package's door with its doc comment and signature, as they stand in the source.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'

const entry = /^export (type )?\{ ([^}]+) \} from '#([^']+)'$/gm

const docBefore = (source, index) => /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/.exec(source.slice(0, index))?.[1]?.replace(/^\s*\* ?/gm, '').trim() ?? ''

/** The declaration from its name to the arrow or the end of its block. */
const signatureOf = (source, index, isType) => {
  const rest = source.slice(index)
  if (isType) return /^[\s\S]*?\n(?=\n|$)/.exec(rest)?.[0].trim() ?? rest.trim()
  return rest.slice(0, rest.search(/ =>(?: \{|\n| )|\n\n|z\.(?:object|loose)/)).trim()
}

const partOf = (root, name, path, isType) => {
  const source = readFileSync(join(root, 'src', `${path}.ts`), 'utf8')
  const found = new RegExp(`^export (?:const|type|interface) ${name}\\b`, 'm').exec(source)
  if (!found) throw new Error(`${name} is not in ${path}`)
  return [`### ${name}`, '', docBefore(source, found.index), '', '```ts', signatureOf(source, found.index, isType), '```', `from \`${path}\``, ''].join('\n')
}

export const apiPage = (root) => {
  const door = readFileSync(join(root, 'src/api.ts'), 'utf8')
  const parts = [...door.matchAll(entry)].flatMap(([, type, names, path]) => names.split(',').map((name) => partOf(root, name.trim(), path, type !== undefined)))
  return ['# The core as a library', '', "```js\nimport { readTrace, measure, isUnmeasurable } from 'stepwitness'\n```", '', 'Nothing here reads files, the clock or chance. What cannot be measured is returned as `Unmeasurable`; a wrong caller gets a RangeError or TypeError.', '', ...parts].join('\n')
}
