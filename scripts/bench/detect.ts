// Detection against rendered photos with a known truth: npm run bench:detect -- [options], see --help.
import { execFileSync } from 'node:child_process'
import { mkdir, readFile, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { readPhoto } from '#adapters/photo/read-photo'
import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { drawOverlay } from './overlay.ts'
import { type Score, scoreDetection, scoreRefused } from './score.ts'
import { chooseSuite, type Suite } from './suite.ts'
import { type Summary, summarise } from './summary.ts'
import { rendererState } from './renderer-state.ts'
import { printTable } from './table.ts'
import { type TruthFile, truthShape } from './truth-file.ts'

const HELP = `npm run bench:detect -- [options]
  --suite tune|verify    which seeds (verify: the fixed suite, not used while tuning); default tune
  --classes a,b          only these: sheet, plain, cropped, hard, strip, clean, textured, circle
  --seeds from-to        other seeds of the chosen classes
  --photos DIR           where rendered photos are kept between runs (default: a temporary folder per state of the renderer)
  --from DIR             no rendering: every *.truth.json with its photo in DIR
  --save-failures DIR    photo and overlay of every photo that missed, invented or miscounted
  --each                 one line per photo
  --json                 the summary as JSON on stdout`

const { values: options } = parseArgs({
  options: {
    suite: { type: 'string', default: 'tune' },
    classes: { type: 'string' },
    seeds: { type: 'string' },
    photos: { type: 'string', default: join(tmpdir(), 'stepwitness-photos', rendererState()) },
    from: { type: 'string' },
    'save-failures': { type: 'string' },
    each: { type: 'boolean', default: false },
    json: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
})

/** Rendering goes on in a process of its own, so that memory and time here are the detector's. */
const render = ({ difficulty, seeds }: Suite): void => {
  const [from, to] = [seeds[0] ?? 1, seeds[seeds.length - 1] ?? 1]
  const args = ['scripts/run.mjs', 'scripts/render/cli.ts', '--missing', '--out', options.photos, '--classes', difficulty, '--seeds', `${from}-${to}`]
  execFileSync(process.execPath, args, { stdio: ['ignore', 'ignore', 'inherit'] })
}

const readTruth = async (path: string): Promise<TruthFile> => truthShape.parse(JSON.parse(await readFile(path, 'utf8')))

interface Read {
  readonly detection: Detection | null
  readonly score: Score
}

const readOne = async (photo: Uint8Array, truth: TruthFile): Promise<Read> => {
  const start = process.cpuUsage()
  const spent = (): number => {
    const { user, system } = process.cpuUsage(start)
    return (user + system) / 1e6
  }
  const picture = await readPhoto(photo)
  const found = isUnmeasurable(picture) ? picture : detect(picture.raster, truth.rig === 'mirror' ? { rig: 'mirror' } : {})
  const seconds = spent()
  if (isUnmeasurable(found)) return { detection: null, score: scoreRefused(truth, `${found.what} (${found.where})`, seconds) }
  return { detection: found, score: scoreDetection(found, truth, seconds) }
}

const failed = (score: Score): boolean => score.kind === 'refused' || score.found < score.wanted || score.spurious > 0 || !score.countRight

const keepFailure = async (folder: string, photo: Uint8Array, truth: TruthFile, { detection }: Read): Promise<void> => {
  await mkdir(folder, { recursive: true })
  await writeFile(join(folder, truth.photo.file), photo)
  await writeFile(join(folder, `${truth.photo.file.replace(/\.\w+$/, '')}-overlay.png`), await drawOverlay(photo, detection, truth))
}

const rms = (values: readonly number[]): string => Math.sqrt(values.reduce((s, v) => s + v * v, 0) / Math.max(1, values.length)).toFixed(4)

const report = (s: Score): string =>
  `${s.file}: ${s.found}/${s.wanted} found, ${s.spurious} spurious, rms ${rms(s.errors)}, local ${rms(s.local)}, z ${rms(s.normalised)}, ` +
  `centre ${s.centreErrorMm?.toFixed(2) ?? '-'} mm, ${s.rectifiedBy}, count ${s.countRight ? 'right' : 'WRONG'}, ${s.seconds.toFixed(2)} s ${s.why}`

/** Resident memory after each photo, MiB: flat when nothing leaks. */
const resident: number[] = []

const runPhoto = async (folder: string, truthFile: string): Promise<Score> => {
  const truth = await readTruth(join(folder, truthFile))
  const photo = await readFile(join(folder, truth.photo.file))
  const read = await readOne(photo, truth)
  resident.push(process.memoryUsage.rss() / 2 ** 20)
  if (options.each) console.error(report(read.score))
  if (options['save-failures'] !== undefined && failed(read.score)) await keepFailure(options['save-failures'], photo, truth, read)
  return read.score
}

const runSuites = async (suites: readonly Suite[]): Promise<readonly Score[]> => {
  const scores: Score[] = []
  for (const suite of suites) {
    render(suite)
    for (const seed of suite.seeds) scores.push(await runPhoto(options.photos, `${suite.difficulty}-${seed}.truth.json`))
  }
  return scores
}

const runFolder = async (folder: string): Promise<readonly Score[]> => {
  const { readdir } = await import('node:fs/promises')
  const scores: Score[] = []
  for (const file of (await readdir(folder)).filter((f) => f.endsWith('.truth.json')).sort()) scores.push(await runPhoto(folder, file))
  return scores
}

const parseSeeds = (text: string | undefined): readonly [number, number] | null => {
  if (text === undefined) return null
  const [from = Number.NaN, to = from] = text.split('-').map(Number)
  return [from, to]
}

/** Greatest resident memory in the eighth of the run that ends at this share of it. */
const residentAfter = (share: number): number => {
  const end = Math.max(1, Math.round(share * resident.length))
  return Math.max(...resident.slice(Math.max(0, end - Math.ceil(resident.length / 8)), end))
}

const main = async (): Promise<void> => {
  if (options.help) return console.log(HELP)
  if (options.suite !== 'tune' && options.suite !== 'verify') throw new TypeError(`--suite is tune or verify, got ${options.suite}`)
  const suites = chooseSuite(options.suite, options.classes?.split(',') ?? null, parseSeeds(options.seeds))
  const scores = await (options.from === undefined ? runSuites(suites) : runFolder(options.from))
  const classes = [...new Set(scores.map((s) => s.difficulty))]
  const summaries: readonly Summary[] = classes.map((name) => summarise(name, scores.filter((s) => s.difficulty === name)))
  const memory = { peakMiB: process.resourceUsage().maxRSS / 1024, residentMiB: [0.25, 0.5, 0.75, 1].map(residentAfter) }
  if (options.json) console.log(JSON.stringify({ suite: options.suite, ...memory, summaries }, null, 1))
  else printTable(summaries, memory)
}

await main()
