import { existsSync } from 'node:fs'
import { readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { type Result, resultSchema } from '#core/report/result-schema'
import { systemReason } from './system-reason.ts'
import { putBack } from './tidied.ts'

const refuse = (error: unknown, path: string): Unmeasurable => {
  const code = error instanceof Error && 'code' in error ? error.code : ''
  return unmeasurable(
    code !== 'ENOENT' ? `it cannot be opened (${systemReason(error)})` : existsSync(path) ? 'there is no result.json in it' : 'there is no such file',
    path,
    'give a result.json or the evidence folder it is in',
  )
}

const readText = async (path: string): Promise<string | Unmeasurable> => {
  try {
    await putBack(path)
    const folder = (await stat(path)).isDirectory()
    return await readFile(folder ? join(path, 'result.json') : path, 'utf8')
  } catch (error) {
    return refuse(error, path)
  }
}

const parse = (text: string): Result | null => {
  try {
    return resultSchema.parse(JSON.parse(text))
  } catch {
    return null
  }
}

/** The result document in a result.json, or in the evidence folder that holds one. */
export const readResult = async (path: string): Promise<Result | Unmeasurable> => {
  const text = await readText(path)
  if (typeof text !== 'string') return text
  return parse(text) ?? unmeasurable('it is not a result document', path, 'give the result.json that measure wrote')
}
