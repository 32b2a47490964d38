// What is installed with the tarball: every package the lock file gives a user, its licence, its size; and what is bundled into dist/.
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'

const sizeOf = (folder) => readdirSync(folder, { recursive: true, withFileTypes: true }).reduce((sum, each) => sum + (each.isFile() ? statSync(join(each.parentPath, each.name)).size : 0), 0)

const licenceOf = ({ license, licenses }) => (typeof license === 'string' ? license : (license?.type ?? licenses?.map(({ type }) => type).join(' or ') ?? 'not stated'))

/** One line a package: name, version, licence, kB. @param inputs paths esbuild and vite took into the bundles */
export const licenceList = (root, inputs) => {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages
  const described = (path) => JSON.parse(readFileSync(join(root, path, 'package.json'), 'utf8'))
  const line = (path) => {
    const { name, version, ...rest } = described(path)
    return { name, text: `${name} ${version}  ${licenceOf(rest)}  ${Math.round(sizeOf(join(root, path)) / 1000)} kB` }
  }
  const there = (path) => existsSync(join(root, path, 'package.json'))
  const installed = Object.entries(lock).filter(([path, { dev }]) => path !== '' && !dev && there(path)).map(([path]) => path)
  const bundled = [...new Set(inputs.flatMap((input) => /^(?:.*?)(node_modules\/(?:.*\/node_modules\/)?(?:@[^/]+\/)?[^/]+)\//.exec(input)?.[1] ?? []))].filter((path) => there(path) && !installed.includes(path))
  const listed = (paths) => paths.map(line).toSorted((a, b) => (a.name < b.name ? -1 : 1)).map(({ text }) => text)
  return ['Installed with stepwitness (size on disk, this platform):', '', ...listed(installed), '', 'Bundled into dist/ (size of the whole package; only what is used is in the bundle):', '', ...listed(bundled), ''].join('\n')
}
