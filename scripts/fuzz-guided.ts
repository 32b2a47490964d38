// Fuzzes one parser guided by coverage: an input that runs code no earlier one ran joins the corpus and is changed further.
// Usage: node scripts/run.mjs scripts/fuzz-guided.ts [--only trace] [--seconds 60] [--seed 1] [--report fuzz-guided.json]
import { writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { seededRandom } from '#core/numeric/seeded-random'
import { watchCoverage } from './fuzz/coverage.ts'
import { mutated } from './fuzz/mutate.ts'
import type { Target } from './fuzz/target.ts'
import { targets } from './fuzz/targets.ts'

const { values } = parseArgs({ options: { only: { type: 'string' }, seconds: { type: 'string', default: '60' }, seed: { type: 'string', default: '1' }, report: { type: 'string', default: 'fuzz-guided.json' } } })

const guided = async ({ name, corpus: first, run }: Target): Promise<object> => {
  const random = seededRandom(Number(values.seed))
  const coverage = await watchCoverage()
  const corpus = [...first]
  const failures: { input: string; message: string }[] = []
  const attempt = async (input: Uint8Array): Promise<void> => {
    try {
      await run(input)
    } catch (error) {
      failures.push({ input: Buffer.from(input).toString('base64'), message: String(error) })
    }
  }
  for (const input of first) await attempt(input)
  await coverage.fresh()
  const begun = coverage.reached()
  const ends = performance.now() + Number(values.seconds) * 1000
  let inputs = 0
  for (; performance.now() < ends; inputs++) {
    const input = mutated(corpus, random)
    await attempt(input)
    // A longer input that reaches no more than a shorter one would only slow the rest down.
    if ((await coverage.fresh()) > 0 && input.length < 20_000) corpus.push(input)
  }
  const report = { target: name, seed: Number(values.seed), inputs, placesFromCorpus: begun, places: coverage.reached(), corpus: corpus.length, failures }
  await coverage.stop()
  console.log(`${name.padEnd(8)} ${inputs} inputs, places reached ${begun} → ${report.places}, corpus ${first.length} → ${corpus.length}, ${failures.length} failures`)
  for (const { message } of failures.slice(0, 3)) console.log(`  ${message}`)
  return report
}

const reports: object[] = []
for (const target of await targets()) if (values.only === undefined || values.only === target.name) reports.push(await guided(target))
writeFileSync(values.report, `${JSON.stringify({ node: process.versions.node, reports }, null, 1)}\n`)
