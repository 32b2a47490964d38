import { basename, extname } from 'node:path'
import type { MeasureCommandOptions } from '#adapters/terminal/measure-command'
import { wrongFolder } from '#adapters/terminal/out-folder'
import { type Shown, tell, tellWait } from '#adapters/terminal/outcome'
import { setUpOf } from '#adapters/terminal/set-up-options'
import { type InputFile, readInput } from '#adapters/files/read-input'
import type { Travel } from '#core/decide/drive/travel-of'
import { type IncrementLimits, usualLimits } from '#core/decide/mode-increments'
import type { Detection, Hints } from '#core/detect/detection'
import { decodeText } from '#core/ingest/decode-text'
import { readTrace } from '#core/ingest/read-trace'
import type { SetUp } from '#core/ingest/set-up'
import type { Trace } from '#core/ingest/trace'
import { measure } from '#core/measure'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { travelThrough } from './travel-through.ts'

/** A trace with the photo's detection when it came from one. */
interface Read {
  readonly kind: 'read'
  readonly trace: Trace
  readonly detection: Detection | null
  readonly hints: Hints | null
}

const readTyped = (input: InputFile, setUp: SetUp): Read | Unmeasurable => {
  const text = decodeText(input.bytes, input.name)
  if (typeof text !== 'string') return text
  const trace = readTrace(text, setUp)
  return isUnmeasurable(trace) ? { ...trace, where: `${input.name}, ${trace.where}` } : { kind: 'read', trace, detection: null, hints: null }
}

const readPhotographed = async (input: InputFile, setUp: SetUp, options: MeasureCommandOptions): Promise<Read | Unmeasurable> => {
  const [{ hintsOf }, { detectInput }, { traceFromDetection }] = await Promise.all([
    import('#adapters/terminal/hint-options'),
    import('#adapters/terminal/detect/detect-input'),
    import('#core/ingest/trace-from-detection'),
  ])
  const hints = hintsOf(options)
  if (isUnmeasurable(hints)) return hints
  const detection = await detectInput(input, hints)
  if (isUnmeasurable(detection)) return detection
  const trace = traceFromDetection(detection, setUp)
  return isUnmeasurable(trace) ? { ...trace, where: `${input.name}, ${trace.where}` } : { kind: 'read', trace, detection, hints }
}

const seedOf = (text: string | undefined): number | Unmeasurable => {
  const seed = Number(text ?? 1)
  return Number.isSafeInteger(seed) ? seed : unmeasurable(`"${text}" is not a whole number`, '--seed', 'give a whole number')
}

/** "0.5,1.5": the least and the most an increment may be, nominal 1. */
const limitsOf = (text: string | undefined): IncrementLimits | Unmeasurable => {
  if (text === undefined) return usualLimits
  const [low = Number.NaN, high = Number.NaN, ...more] = text.split(',').map(Number)
  const usable = more.length === 0 && low >= 0 && low < 1 && high > 1 && Number.isFinite(high)
  return usable ? { low, high } : unmeasurable(`"${text}" are no limits of an increment`, '--limits', 'give the least and the most of nominal, on either side of 1, such as 0.5,1.5')
}

/** The document as measured, with where the marks came from filled in. */
const completed = (result: Result, input: InputFile, detection: Detection | null): Result => ({
  ...result,
  input: { kind: input.kind, sha256: input.sha256, name: input.name },
  detection: detection as Result['detection'],
})

const travelLines = async (travel: Travel | null, { motor }: Result): Promise<string[]> => {
  if (travel === null) return []
  const { travelText } = await import('#adapters/terminal/travel/travel-text')
  return ['', travelText([{ ...travel, speed: 0, dynamics: null }], motor, { name: 'mm', perMm: 1, torque: 'N·cm' })]
}

/** `measure`: reads, measures, writes the evidence unless only JSON is asked for. */
export const runMeasure = async (file: string, options: MeasureCommandOptions): Promise<Shown | Unmeasurable> => {
  const misnamed = wrongFolder(options.out, 'the evidence')
  if (misnamed) return misnamed
  const setUp = setUpOf(options)
  if (isUnmeasurable(setUp)) return setUp
  const seed = seedOf(options.seed)
  if (isUnmeasurable(seed)) return seed
  const limits = limitsOf(options.limits)
  if (isUnmeasurable(limits)) return limits
  const input = await readInput(file)
  if (isUnmeasurable(input)) return input
  tellWait(input.kind === 'photo' ? `looking for the marks in ${input.name} …` : `measuring ${input.name} …`)
  const read = input.kind === 'photo' ? await readPhotographed(input, setUp, options) : readTyped(input, setUp)
  if (isUnmeasurable(read)) return read
  const measured = measure(read.trace, { seed, limits })
  if (isUnmeasurable(measured)) return { ...measured, where: `${input.name}, ${measured.where}` }
  const result = completed(measured, input, read.detection)
  const travel = await travelThrough(options.train ?? null, result)
  if (isUnmeasurable(travel)) return travel
  const folder = options.out ?? (options.json ? null : `${basename(file, extname(file))}-evidence`)
  if (folder !== null) {
    const { writeEvidence } = await import('./evidence.ts')
    const refused = await writeEvidence(folder, { result, input, trace: read.trace, detection: read.detection, travel, madeWith: { setUp, hints: read.hints, train: options.train ?? null, path: file } })
    if (isUnmeasurable(refused)) return refused
    tell(`evidence: ${folder}/report.html`)
    if (input.kind === 'photo') tell('The photo itself is not copied there, and what the camera wrote into it (place, time) is left out of every picture.')
  }
  if (options.json) for (const warning of result.warnings) tell(warning)
  if (options.json) return { json: result, text: '' }
  const [{ summaryText }, { textColumns }] = await Promise.all([import('#core/report/summary-text'), import('#adapters/terminal/fitted-table')])
  return { json: result, text: [summaryText(result, { columns: textColumns() }), ...(await travelLines(travel, result))].join('\n') }
}
