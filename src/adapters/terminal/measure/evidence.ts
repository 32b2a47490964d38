import { createHash } from 'node:crypto'
import { extname } from 'node:path'
import { plotlyScript } from '#adapters/files/plotly-script'
import { renderPng } from '#adapters/files/render-png'
import { type FolderContents, writeFolder } from '#adapters/files/write-folder'
import type { Travel } from '#core/decide/drive/travel-of'
import type { Detection } from '#core/detect/detection'
import type { Trace } from '#core/ingest/trace'
import { plainJson } from '#core/quantity/one-line'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { driveSection } from '#core/report/html/section-drive'
import { figureSet } from '#core/report/figures/figure-set'
import { reportHtml } from '#core/report/html/report-html'
import { correctionFiles } from '#core/report/correction-files'
import { marksCsv } from '#core/report/marks-csv'
import { noteBlock } from '#core/report/note/note-block'
import { noteTitle } from '#core/report/note/note-title'
import { type MadeResult, manifestText } from './manifest.ts'

/** What a measurement leaves behind, before it becomes files. */
export interface Evidence extends MadeResult {
  readonly trace: Trace
  readonly detection: Detection | null
  /** What it means at a carriage, where a drive train was named. */
  readonly travel?: Travel | null
}

const sha256Base64 = (text: string): string => createHash('sha256').update(text).digest('base64')

const overlayOf = async ({ input, detection }: Evidence): Promise<Uint8Array | null> => {
  if (!detection) return null
  const { drawOverlay } = await import('#adapters/photo/draw-overlay')
  return drawOverlay(input.bytes, detection)
}

/** A typed input is kept as it was; a photo is known by its hash, since its file may tell where it was taken. */
const inputName = ({ input }: Evidence): string | null => (input.kind === 'typed' ? `input${/^\.[a-z0-9]{1,8}$/.exec(extname(input.name).toLowerCase())?.[0] ?? '.csv'}` : null)

/** The evidence folder but for its manifest: report, note, result, marks, figures, overlay of a photo, and the typed input itself. */
export const evidenceFiles = async (evidence: Evidence): Promise<FolderContents> => {
  const { result, trace, input, travel = null } = evidence
  const keptAs = inputName(evidence)
  const figures = figureSet(result)
  const overlay = await overlayOf(evidence)
  const html = reportHtml(result, {
    plotlyScript: await plotlyScript(),
    sha256Base64,
    figures,
    overlayPng: overlay && Buffer.from(overlay).toString('base64'),
    more: [travel && driveSection(travel)],
  })
  return new Map<string, string | Uint8Array>([
    ['result.json', `${plainJson(result, 1)}\n`],
    ['report.html', html],
    ['note.md', [noteTitle(result), '', ...noteBlock(result), ''].join('\n')],
    ['marks.csv', marksCsv(trace)],
    ...correctionFiles(result),
    ...figures.flatMap(({ name, svg }): [string, string | Uint8Array][] => [
      [`figures/${name}.svg`, svg],
      [`figures/${name}.png`, renderPng(svg)],
    ]),
    ...(overlay ? [['overlay.png', overlay] as [string, Uint8Array]] : []),
    ...(keptAs === null ? [] : [[keptAs, input.bytes] as [string, Uint8Array]]),
  ])
}

/** Writes the evidence folder whole or not at all, with a manifest by which it can be replayed. */
export const writeEvidence = async (folder: string, evidence: Evidence): Promise<null | Unmeasurable> => {
  const files = await evidenceFiles(evidence)
  return writeFolder(folder, new Map([...files, ['manifest.json', manifestText(folder, evidence, files, inputName(evidence))]]))
}
