import { mkdtempSync, rmSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { build } from 'esbuild'

/** One command of src/adapters/terminal bundled to run by itself, and how to throw the bundle away. */
export interface BundledCommand {
  readonly path: string
  readonly remove: () => void
}

/** Bundles `<name>-command.ts` behind a bare program, inside node_modules so that packages are found. */
export const bundleCommand = async (name: string, adder: string): Promise<BundledCommand> => {
  const folder = mkdtempSync(resolve('node_modules/.command-'))
  const contents = `import { Command } from 'commander'
import { ${adder} } from '#adapters/terminal/${name}-command'
const end = ({ exitCode }) => process.exit(exitCode === 0 ? 0 : 2)
const program = new Command('stepwitness').exitOverride(end)
${adder}(program)
program.commands.forEach((command) => command.exitOverride(end))
await program.parseAsync(process.argv)`
  await build({
    stdin: { contents, resolveDir: resolve('src'), loader: 'ts' },
    outfile: join(folder, `${name}.mjs`),
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    packages: 'external',
    plugins: [
      {
        name: 'own-source',
        setup: (b) => {
          b.onResolve({ filter: /^#/ }, ({ path }) => ({ path: resolve('src', `${path.slice(1)}.ts`) }))
        },
      },
    ],
    logLevel: 'silent',
  })
  return {
    path: join(folder, `${name}.mjs`),
    remove: () => {
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
