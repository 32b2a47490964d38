import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { reviewedOf } from '#core/review/apply-edit'
import { editedDetection } from '#core/review/edited-detection'
import { measureWork } from '#core/review/measure-work'
import { setUpOfWork, traceOfWork, traceText } from '#core/review/trace-of-work'
import { loadTest, photoPath, type Saved } from './project.ts'
import type { EvidenceOrder } from './server-options.ts'

const inputOf = async (project: string, { id, work }: Saved): Promise<EvidenceOrder['input'] | null> => {
  const path = work.source === 'photo' ? await photoPath(project, id) : null
  if (work.source === 'photo' && !path) return null
  const bytes = path ? await readFile(path) : Buffer.from(`${traceText(work)}\n`)
  return { kind: work.source, name: path ? (work.photo?.name ?? basename(path)) : 'trace.csv', bytes, sha256: createHash('sha256').update(bytes).digest('hex') }
}

/** Everything an evidence folder holds, measured from the saved test; figures sent by a page are never believed. */
export const evidenceOrder = async (project: string, id: string): Promise<EvidenceOrder | Unmeasurable> => {
  const saved = await loadTest(project, id)
  const input = saved && (await inputOf(project, saved))
  if (!saved || !input) return unmeasurable(saved ? 'there is no photo yet' : 'there is no such test', id, 'save the test and its photo first')
  const { work } = saved
  const trace = traceOfWork(work)
  if (isUnmeasurable(trace)) return trace
  const measured = measureWork(work)
  if (isUnmeasurable(measured)) return measured
  const state = work.source === 'photo' ? reviewedOf(work) : null
  const detection = state && editedDetection(state, work.edits.slice(0, work.applied))
  const setUp = setUpOfWork(work)
  const photo = work.source === 'photo' ? await photoPath(project, id) : null
  // A typed trace says its set-up itself.
  const madeWith = { setUp: photo === null || isUnmeasurable(setUp) ? {} : setUp, hints: photo === null ? null : (work.hints ?? null), path: photo ?? join(project, 'tests', id, 'trace.csv') }
  return { input, trace, detection, madeWith, result: { ...measured, input: { kind: input.kind, name: input.name, sha256: input.sha256 } } }
}
