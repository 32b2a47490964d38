// Feeds every parser mutated inputs and writes a report. Same seed, same inputs.
// Usage: node scripts/run.mjs scripts/fuzz.ts [--inputs 1000000] [--seconds 60] [--seed 1] [--only trace] [--report fuzz-report.json]
import { writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { type FuzzReport, fuzzTarget } from './fuzz/fuzz-target.ts'
import { targets } from './fuzz/targets.ts'

const { values } = parseArgs({ options: { inputs: { type: 'string', default: '1000000' }, seconds: { type: 'string', default: '60' }, seed: { type: 'string', default: '1' }, only: { type: 'string' }, report: { type: 'string', default: 'fuzz-report.json' } } })
const reports: FuzzReport[] = []
for (const target of await targets()) {
  if (values.only !== undefined && values.only !== target.name) continue
  const report = await fuzzTarget(target, { seed: Number(values.seed), inputs: Number(values.inputs), seconds: Number(values.seconds) })
  reports.push(report)
  console.log(`${report.target.padEnd(8)} ${String(report.inputs).padStart(8)} inputs, ${report.taken} taken, ${report.failures.length} failures, slowest ${report.slowestMs.toFixed(0)} ms, ${report.mostMemoryMiB.toFixed(0)} MiB, ${report.seconds.toFixed(0)} s`)
  for (const { message } of report.failures.slice(0, 3)) console.log(`  ${message}`)
}
writeFileSync(values.report, `${JSON.stringify({ node: process.versions.node, reports }, null, 1)}\n`)
process.exitCode = reports.some(({ failures, hung, mostMemoryMiB }) => failures.length + hung.length > 0 || mostMemoryMiB > 1024) ? 1 : 0
