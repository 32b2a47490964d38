import { spawnSync } from 'node:child_process'
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join, resolve } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'

const cases = [
  { file: 'src/core/quantity/a.ts', from: '#core/report/result', complaint: /core\/quantity is pure and sees only/ },
  { file: 'src/core/rig/b.ts', from: '#core/figures/figures', complaint: /core\/rig is pure and sees only/ },
  { file: 'src/core/detect/c.ts', from: 'node:fs', complaint: /core\/detect is pure and sees only/ },
  { file: 'src/core/decide/d.ts', from: '#adapters/files/read-input', complaint: /core\/decide is pure and sees only/ },
  { file: 'src/core/figures/e.ts', from: '../rig/locate.ts', complaint: /core\/figures is pure and sees only/ },
  { file: 'src/adapters/files/f.ts', from: '#adapters/photo/read-photo', complaint: /only adapters\/terminal composes/ },
  { file: 'src/adapters/page/client/g.ts', from: 'node:path', complaint: /adapters\/page\/client has one outside thing/ },
  { file: 'src/core/rig/h.ts', from: '#core/numeric/moments', complaint: null },
]

const folder = mkdtempSync(join(tmpdir(), 'direction-'))
let complaints: readonly { file: string; message: string }[] = []

// The project's own rules over a small tree that breaks them on purpose.
beforeAll(() => {
  copyFileSync('.biome.jsonc', join(folder, '.biome.jsonc'))
  for (const { file, from } of cases) {
    mkdirSync(dirname(join(folder, file)), { recursive: true })
    writeFileSync(join(folder, file), `import { x } from '${from}'\nexport const y = x\n`)
  }
  const { stdout } = spawnSync(resolve('node_modules/.bin/biome'), ['lint', '--reporter=json', '--max-diagnostics=50', 'src'], { cwd: folder, encoding: 'utf8' })
  const report = JSON.parse(stdout) as { diagnostics: { location: { path: string | { file: string } }; message: string | { content: string }[]; description?: string }[] }
  complaints = report.diagnostics.map((diagnostic) => ({ file: JSON.stringify(diagnostic.location.path), message: JSON.stringify(diagnostic) }))
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('imports go one way, and the linter says so', () => {
  for (const { file, from, complaint } of cases) {
    it(`${file} ${complaint ? 'may not' : 'may'} import ${from}`, () => {
      const about = complaints.filter((each) => each.file.includes(file)).map(({ message }) => message).join('\n')
      if (complaint) expect(about).toMatch(complaint)
      else expect(about).not.toMatch(/sees only/)
    })
  }
})
