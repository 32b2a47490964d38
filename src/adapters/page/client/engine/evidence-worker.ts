import type { Detection } from '#core/detect/detection'
import { overlaySvg } from '#core/report/overlay-svg'
import { plainJson } from '#core/quantity/one-line'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { figureSet } from '#core/report/figures/figure-set'
import { bootScript } from '#core/report/html/boot-script'
import { embeddable } from '#core/report/html/embeddable'
import { reportHtml } from '#core/report/html/report-html'
import { correctionFiles } from '#core/report/correction-files'
import { marksCsv } from '#core/report/marks-csv'
import { noteBlock } from '#core/report/note/note-block'
import { noteTitle } from '#core/report/note/note-title'
import type { Result } from '#core/report/result-schema'
import { measureWork } from '#core/review/measure-work'
import { traceOfWork } from '#core/review/trace-of-work'
import type { EvidenceAnswer, EvidenceJob } from './evidence-messages.ts'

type Job<K extends EvidenceJob['kind']> = EvidenceJob & { readonly kind: K }

const base64 = (bytes: Uint8Array): string => {
  let text = ''
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000))
  return btoa(text)
}

const sha256Base64 = async (text: string): Promise<string> => base64(new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text))))

const measured = ({ work, sha256 }: Job<'measure'>): EvidenceAnswer => {
  const outcome = measureWork(work)
  if (isUnmeasurable(outcome)) return outcome
  const result: Result = work.source === 'photo' ? outcome : { ...outcome, input: { kind: 'typed', sha256, name: 'trace.csv' } }
  const detection = result.detection as unknown as Detection | null
  return { kind: 'measured', result, figures: figureSet(result), overlaySvg: detection && overlaySvg(detection) }
}

const texts = async ({ work, result, plotly, overlay }: Job<'texts'>): Promise<EvidenceAnswer> => {
  const trace = traceOfWork(work)
  if (isUnmeasurable(trace)) return trace
  const plotlyScript = embeddable(plotly)
  const hashes = new Map(await Promise.all([plotlyScript, bootScript].map(async (text) => [text, await sha256Base64(text)] as const)))
  const figures = figureSet(result)
  const html = reportHtml(result, { plotlyScript, sha256Base64: (text) => hashes.get(text) ?? '', figures, overlayPng: overlay && base64(overlay) })
  return {
    kind: 'texts',
    texts: new Map([
      ['result.json', `${plainJson(result, 1)}\n`],
      ['report.html', html],
      ['note.md', [noteTitle(result), '', ...noteBlock(result), ''].join('\n')],
      ['marks.csv', marksCsv(trace)],
      ...correctionFiles(result),
      ...figures.map(({ name, svg }) => [`figures/${name}.svg`, svg] as const),
    ]),
  }
}

const answer = async (job: EvidenceJob): Promise<EvidenceAnswer | Unmeasurable> => (job.kind === 'measure' ? measured(job) : texts(job))

self.addEventListener('message', async ({ data }: MessageEvent<EvidenceJob>) => self.postMessage(await answer(data)))
