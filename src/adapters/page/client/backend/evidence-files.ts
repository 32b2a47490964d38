import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { plainJson } from '#core/quantity/one-line'
import { type Platform, sealedText } from '#core/report/replay/evidence-schema'
import { manifestOf } from '#core/report/replay/manifest-of'
import type { Result } from '#core/report/result-schema'
import { setUpOfWork, traceText } from '#core/review/trace-of-work'
import type { Work } from '#core/review/work'
import type { EvidenceAnswer, EvidenceJob } from '#adapters/page/client/engine/evidence-messages'
import { chartPng, overlayPng } from './draw-pictures.ts'

export interface KeptTest {
  readonly id: string
  readonly work: Work
  readonly photo: Blob | null
}

export type Files = ReadonlyMap<string, string | Uint8Array>

const hexOf = (bytes: ArrayBuffer): string => Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('')

export const sha256 = async (content: string | Uint8Array | Blob): Promise<string> =>
  hexOf(await crypto.subtle.digest('SHA-256', content instanceof Blob ? await content.arrayBuffer() : typeof content === 'string' ? new TextEncoder().encode(content) : new Uint8Array(content)))

const asked = <K extends 'measured' | 'texts'>(worker: Worker, job: EvidenceJob, stop: AbortSignal): Promise<(EvidenceAnswer & { readonly kind: K }) | Unmeasurable> =>
  new Promise((resolve, reject) => {
    stop.addEventListener('abort', () => reject(new DOMException('stopped', 'AbortError')))
    worker.onmessage = ({ data }: MessageEvent<(EvidenceAnswer & { readonly kind: K }) | Unmeasurable>) => resolve(data)
    worker.onerror = () => reject(new Error('the evidence could not be made in this browser'))
    worker.postMessage(job)
  })

/** What these figures were computed on, as far as a browser says it. */
const platformHere = (): Platform => {
  const engine = /(?:Firefox|Chrome|Version)\/\d+/.exec(navigator.userAgent)?.[0] ?? 'unknown'
  return { node: 'none', v8: engine, os: 'browser', arch: engine }
}

const photoNames: Readonly<Record<string, string>> = { 'image/png': 'photo.png', 'image/webp': 'photo.webp', 'image/avif': 'photo.avif' }

/** The test itself, as a bench server keeps it in the same project folder. */
export const testFiles = async ({ work, photo }: KeptTest): Promise<Files> =>
  new Map<string, string | Uint8Array>([
    ['work.json', `${JSON.stringify(work)}\n`],
    ...(work.source === 'typed' ? ([['trace.csv', `${traceText(work)}\n`]] as const) : []),
    ...(photo ? ([[photoNames[photo.type] ?? 'photo.jpg', new Uint8Array(await photo.arrayBuffer())]] as const) : []),
  ])

const manifestText = async ({ id, work, photo }: KeptTest, result: Result, files: Files): Promise<string> => {
  const entries = await Promise.all([...files].map(async ([name, content]) => [name, { sha256: await sha256(content), bytes: typeof content === 'string' ? new TextEncoder().encode(content).length : content.length }] as const))
  const setUp = setUpOfWork(work)
  const typed = `${traceText(work)}\n`
  const place = photo ? (photoNames[photo.type] ?? 'photo.jpg') : 'trace.csv'
  const open = manifestOf(result, {
    platform: platformHere(),
    input: { kind: work.source, name: photo ? (work.photo?.name ?? place) : place, sha256: await sha256(photo ?? typed), bytes: photo ? photo.size : new TextEncoder().encode(typed).length, keptAs: photo ? null : 'input.csv', at: `../../tests/${id}/${place}` },
    // A typed trace says its set-up itself.
    setUp: photo === null || isUnmeasurable(setUp) ? {} : setUp,
    hints: photo === null ? null : (work.hints ?? null),
    train: null,
    files: Object.fromEntries(entries),
  })
  return `${plainJson({ ...open, seal: await sha256(sealedText(open)) }, 1)}\n`
}

const plotlyText = async (): Promise<string> => {
  const answer = await fetch('./plotly.min.js')
  if (!answer.ok) throw new Error('the plotting library for the report is missing beside this page')
  return answer.text()
}

const pngsOf = async (figures: readonly { readonly name: string; readonly svg: string }[]): Promise<Files> => new Map(await Promise.all(figures.map(async ({ name, svg }) => [`figures/${name}.png`, await chartPng(svg)] as const)))

/**
 * An evidence folder's files made wholly in this browser: measured and written as text in a worker, pictures drawn by the
 * page. The typed input is kept; a photo is known by its hash. Rejects when stopped.
 */
export const evidenceFiles = async (kept: KeptTest, stop: AbortSignal): Promise<{ readonly files: Files; readonly result: Result } | Unmeasurable> => {
  const { work, photo } = kept
  const worker = new Worker(new URL('../engine/evidence-worker.ts', import.meta.url), { type: 'module' })
  try {
    const typed = `${traceText(work)}\n`
    const measured = await asked<'measured'>(worker, { kind: 'measure', work, sha256: await sha256(typed) }, stop)
    if (isUnmeasurable(measured)) return measured
    const { result, figures, overlaySvg } = measured
    const overlay = photo && overlaySvg ? await overlayPng(photo, overlaySvg) : null
    const told = await asked<'texts'>(worker, { kind: 'texts', work, result, plotly: await plotlyText(), overlay }, stop)
    if (isUnmeasurable(told)) return told
    const files: Files = new Map<string, string | Uint8Array>([...told.texts, ...(await pngsOf(figures)), ...(overlay ? ([['overlay.png', overlay]] as const) : []), ...(photo ? [] : ([['input.csv', typed]] as const))])
    return { files: new Map([...files, ['manifest.json', await manifestText(kept, result, files)]]), result }
  } finally {
    worker.terminate()
  }
}
