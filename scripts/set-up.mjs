// What every script needs before its own work: the packages of the lock file, installed once.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, lstatSync, readFileSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'

const root = resolve(import.meta.dirname, '..')

/** Runs a program, its output going through, and ends this process when it fails. */
export const run = (program, args, options = {}) => {
  const { status, error } = spawnSync(program, args, { cwd: root, stdio: 'inherit', ...options })
  if (error) console.error(`${program}: ${error.message}`)
  if (status !== 0) process.exit(status ?? 1)
}

/** Installs what package-lock.json says unless exactly that is installed already, or the packages are a link to another checkout's. */
export const installed = () => {
  const stamp = join(root, 'node_modules/.stepwitness-lock')
  const wanted = createHash('sha256').update(readFileSync(join(root, 'package-lock.json'))).digest('hex')
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return console.error('packages: already installed')
  // npm ci empties the folder first: through a link it would be another checkout's.
  if (lstatSync(join(root, 'node_modules'), { throwIfNoEntry: false })?.isSymbolicLink()) return console.error('packages: node_modules is a link and is used as it is')
  console.error('packages: installing (npm ci)')
  run('npm', ['ci', '--no-audit', '--no-fund'], { stdio: ['ignore', 'ignore', 'inherit'] })
  writeFileSync(stamp, wanted)
}
