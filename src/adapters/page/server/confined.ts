import { lstat, realpath } from 'node:fs/promises'
import { join, resolve, sep } from 'node:path'

/** A name that is one plain part of a path on every system: no separators, no leading dot, nothing reserved. */
export const isPlainName = (name: string): boolean => /^[\p{L}\p{N}_][\p{L}\p{N}_ .()-]{0,79}$/u.test(name) && !/[. ]$/.test(name) && !/^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(name)

const existing = (path: string): Promise<boolean> => lstat(path).then(() => true, () => false)

/**
 * A path inside a folder, or null: parts must be plain names, and no link on the way may lead outside.
 */
export const confined = async (folder: string, ...parts: readonly string[]): Promise<string | null> => {
  if (!parts.every(isPlainName)) return null
  const root = await realpath(folder)
  let path = root
  for (const part of parts) {
    path = join(path, part)
    if (!(await existing(path))) continue
    const real = await realpath(path).catch(() => null)
    if (real === null || !`${real}${sep}`.startsWith(`${root}${sep}`)) return null
  }
  return resolve(root, ...parts)
}
