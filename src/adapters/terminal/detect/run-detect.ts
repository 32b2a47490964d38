import { basename, extname } from 'node:path'
import type { DetectCommandOptions } from '#adapters/terminal/detect-command'
import { hintsOf } from '#adapters/terminal/hint-options'
import { wrongFolder } from '#adapters/terminal/out-folder'
import { type Shown, tell, tellWait } from '#adapters/terminal/outcome'
import { setUpOf } from '#adapters/terminal/set-up-options'
import { type InputFile, readInput } from '#adapters/files/read-input'
import type { Detection } from '#core/detect/detection'
import type { SetUp } from '#core/ingest/set-up'
import { plainJson } from '#core/quantity/one-line'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { detectionText } from '#core/report/detection-text'
import { detectInput } from './detect-input.ts'

/** marks.csv, overlay.png, the marks seen square-on and detection.json, written together. */
const writeMarks = async (folder: string, input: InputFile, detection: Detection, setUp: SetUp): Promise<null | Unmeasurable> => {
  const [{ drawOverlay }, { squareOn }, { traceCsvFromDetection }, { writeFolder }] = await Promise.all([
    import('#adapters/photo/draw-overlay'),
    import('#adapters/photo/square-on'),
    import('#core/report/marks-csv'),
    import('#adapters/files/write-folder'),
  ])
  const overlay = await drawOverlay(input.bytes, detection)
  const straightened = await squareOn(input.bytes, detection)
  return writeFolder(folder, new Map<string, string | Uint8Array>([
    ['marks.csv', traceCsvFromDetection(detection, setUp)],
    ['overlay.png', overlay],
    ...(straightened ? [['square-on.png', straightened] as const] : []),
    ['detection.json', `${plainJson(documentOf(input, detection))}\n`],
  ]))
}

/** The result document with input, detection and warnings only. */
const documentOf = (input: InputFile, detection: Detection): object => ({
  schema: 'stepwitness/result@1',
  input: { kind: 'photo', sha256: input.sha256, name: input.name },
  detection,
  warnings: detection.doubts,
})

const foldedText = async (detection: Detection): Promise<string> => {
  const { folded, textColumns } = await import('#adapters/terminal/fitted-table')
  return detectionText(detection).split('\n').map((line) => folded(line, { columns: textColumns(), indent: '  ' })).join('\n')
}

/** `detect`: finds the marks, writes them as a trace with an overlay unless only JSON is asked for. */
export const runDetect = async (file: string, options: DetectCommandOptions): Promise<Shown | Unmeasurable> => {
  const misnamed = wrongFolder(options.out, 'marks.csv and the overlay')
  if (misnamed) return misnamed
  const hints = hintsOf(options)
  if (isUnmeasurable(hints)) return hints
  const setUp = setUpOf(options)
  if (isUnmeasurable(setUp)) return setUp
  const input = await readInput(file)
  if (isUnmeasurable(input)) return input
  tellWait(`looking for the marks in ${input.name} …`)
  const detection = await detectInput(input, hints)
  if (isUnmeasurable(detection)) return detection
  const folder = options.out ?? (options.json ? null : `${basename(file, extname(file))}-marks`)
  if (folder !== null) {
    const refused = await writeMarks(folder, input, detection, setUp)
    if (isUnmeasurable(refused)) return refused
    tell(`marks: ${folder}/marks.csv; look at ${folder}/overlay.png before you believe them`)
  }
  if (options.json) for (const doubt of detection.doubts) tell(doubt)
  return { json: documentOf(input, detection), text: options.json ? '' : await foldedText(detection) }
}
