import { strToU8, zipSync } from 'fflate'
import type { Files } from './evidence-files.ts'

/** Hands a file to the person, who keeps it where downloads go. */
export const download = (name: string, content: string | Uint8Array): void => {
  const url = URL.createObjectURL(new Blob([typeof content === 'string' ? content : new Uint8Array(content)]))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), 60_000)
}

/** Files with their folders as one archive; what is compressed already is only stored. */
export const zipped = (files: Files): Uint8Array =>
  zipSync(Object.fromEntries([...files].map(([name, content]) => [name, [typeof content === 'string' ? strToU8(content) : content, { level: /\.(png|jpg|webp|avif)$/.test(name) ? 0 : 6 }]])))
