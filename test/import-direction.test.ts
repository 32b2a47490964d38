import { spawnSync } from 'node:child_process'
import { describe, expect, it } from 'vitest'

/** Lints one line of source as if it stood in the given file. */
const complaint = (file: string, source: string): string => {
  const { stdout, stderr } = spawnSync('node_modules/.bin/biome', ['lint', `--stdin-file-path=${file}`], { input: source, encoding: 'utf8' })
  return `${stdout}${stderr}`
}

describe('imports go one way', () => {
  const forbidden = [
    ['src/core/quantity/x.ts', '#core/report/result', /core\/quantity is pure and sees only/],
    ['src/core/rig/x.ts', '#core/figures/figures', /core\/rig is pure and sees only/],
    ['src/core/detect/x.ts', 'node:fs', /core\/detect is pure/],
    ['src/core/decide/x.ts', '#adapters/files/read-input', /core\/decide is pure/],
    ['src/adapters/files/x.ts', '#adapters/photo/read-photo', /only adapters\/terminal composes/],
    ['src/adapters/page/client/x.ts', 'node:path', /adapters\/page\/client/],
    ['src/core/figures/x.ts', '../rig/locate.ts', /core\/figures/],
  ] as const
  for (const [file, from, expected] of forbidden) {
    it(`${file} may not import ${from}`, () => expect(complaint(file, `import { x } from '${from}'\nexport const y = x\n`)).toMatch(expected))
  }

  it('a stage may import the ones before it', () => {
    expect(complaint('src/core/rig/x.ts', "import { x } from '#core/numeric/moments'\nexport const y = x\n")).not.toMatch(/sees only/)
  })
})
