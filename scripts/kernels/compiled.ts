import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import asc from 'assemblyscript/asc'

export const folder = 'src/core/detect/kernels'

const OPTIONS = ['--outFile', 'out.wasm', '-O3', '--converge', '--enable', 'simd', '--runtime', 'stub', '--noAssert', '--pedantic']

/** The text of program.ts for its sources as they stand. */
export const compiled = async (): Promise<string> => {
  const written = new Map<string, string | Uint8Array>()
  const { error, stderr } = await asc.main(['program.ts', ...OPTIONS], {
    readFile: (name) => readFile(join(folder, 'assembly', name), 'utf8').catch(() => null),
    writeFile: (name, contents) => void written.set(name, contents),
    listFiles: () => [],
  })
  if (error) throw new Error(`${error.message}\n${stderr.toString()}`)
  const lines = Buffer.from(written.get('out.wasm') ?? '').toString('base64').match(/.{1,160}/g) ?? []
  return `/** \`assembly/\` as WebAssembly with 128-bit vectors, in base64; written by scripts/kernels.ts. */\nexport const PROGRAM = [\n${lines.map((line) => `  '${line}',\n`).join('')}].join('')\n`
}
