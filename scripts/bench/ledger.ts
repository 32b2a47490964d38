// What each command costs as a whole process, how the cost grows, and how many photos share the cores. npm run build first.
// Usage: npm run bench -- [--long] [--keep] [--only commands|marks|pixels|many]
// Compares with scripts/bench/ledger.json; --keep makes this run the one to compare with; --long goes to 10⁶ marks and 50 megapixels.
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { type Cost, costOf } from './ledger/cost.ts'
import { type Growth, growthWithMarks, growthWithPixels } from './ledger/growth.ts'
import { jobs } from './ledger/jobs.ts'
import { type ManyPhotos, manyPhotos } from './ledger/many-photos.ts'

interface Ledger {
  readonly at: { readonly node: string; readonly cpu: string; readonly cores: number }
  readonly commands: Readonly<Record<string, Cost>>
  readonly growth: readonly Growth[]
  readonly many: ManyPhotos | null
}

const { values } = parseArgs({ options: { long: { type: 'boolean', default: false }, keep: { type: 'boolean', default: false }, only: { type: 'string' } } })
const kept = 'scripts/bench/ledger.json'
const before: Ledger | null = existsSync(kept) ? JSON.parse(readFileSync(kept, 'utf8')) : null
const wanted = (part: string): boolean => values.only === undefined || values.only === part

const shown = ({ cpuS, wallS, peakMiB }: Cost, was?: Cost): string => `${cpuS.toFixed(2)} s CPU, ${wallS.toFixed(2)} s, ${peakMiB.toFixed(0)} MiB${was ? `  (× ${(cpuS / was.cpuS).toFixed(2)} CPU, × ${(peakMiB / was.peakMiB).toFixed(2)} memory)` : ''}`

const printGrowth = ({ unit, sizes, exponent, lastExponent }: Growth): void => {
  const was = before?.growth.find((each) => each.unit === unit)
  for (const each of sizes) console.log(`${`${each.size} ${unit}`.padEnd(32)}${shown(each, was?.sizes.find(({ size }) => size === each.size))}`)
  console.log(`  CPU time ∝ ${unit}^${exponent.toFixed(2)} over all, ^${lastExponent.toFixed(2)} between the two largest`)
}

const folder = mkdtempSync(join(tmpdir(), 'ledger-'))
const program = resolve('dist/main.js')
try {
  const commands: Record<string, Cost> = {}
  for (const [name, args] of wanted('commands') ? jobs() : []) {
    commands[name] = costOf([program, ...args], folder, name.startsWith('note') ? 1 : 2)
    console.log(`${name.padEnd(32)}${shown(commands[name], before?.commands[name])}`)
  }
  const startS = (commands['--help'] ?? costOf([program, '--help'], folder, 2)).cpuS
  const growth: Growth[] = []
  if (wanted('marks')) growth.push(growthWithMarks([100, 1000, 10_000, 100_000, ...(values.long ? [1_000_000] : [])], { folder, program, startS }))
  if (wanted('pixels')) growth.push(await growthWithPixels('samples/flap-1-plain.jpg', [0.3, 1.25, 5, 12, ...(values.long ? [25, 50] : [])], { folder, program, startS }))
  growth.forEach(printGrowth)
  const many = wanted('many') ? await manyPhotos('samples/flap-1-plain.jpg', values.long ? 32 : 8) : null
  if (many) console.log(`${`${many.photos} photos`.padEnd(32)}${many.oneThreadS.toFixed(1)} s by one thread, ${many.allThreadsS.toFixed(1)} s by ${many.threads}: efficiency ${many.efficiency.toFixed(2)}`)
  const ledger: Ledger = { at: { node: process.versions.node, cpu: cpus()[0]?.model ?? 'unknown', cores: cpus().length }, commands, growth, many }
  const out = values.keep ? kept : 'out/ledger.json'
  mkdirSync('out', { recursive: true })
  writeFileSync(out, `${JSON.stringify(ledger, null, 1)}\n`)
  console.log(`written to ${out}`)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
