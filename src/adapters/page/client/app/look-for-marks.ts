import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Hints } from '#core/detect/detection'
import { nothingPlaced } from '#adapters/page/client/marks/drawn'
import { chosen } from '#adapters/page/client/marks/marks-state'
import { bench, patch, say, theBackend } from './bench.ts'

/** How a search is followed and ended. */
export interface Search {
  readonly stop: AbortSignal
  readonly step: (text: string) => void
}

const failed = (error: unknown): Unmeasurable => unmeasurable(error instanceof Error ? error.message : 'something went wrong', 'the photo', 'try again')

const search = async (photo: Blob & { readonly name?: string }, hints: Hints, { stop, step }: Search): Promise<Unmeasurable | null> => {
  const { id, work } = bench.get()
  if (!id || !work) return null
  step('Keeping the photo in the project…')
  const kept = await theBackend().putPhoto(id, photo)
  if (isUnmeasurable(kept)) return kept
  const begun = { source: 'photo', photo: { name: photo.name ?? work.photo?.name ?? 'photo.jpg', sha256: kept.sha256 }, hints, edits: [], applied: 0 } as const
  // Another photo has taken the place of the one whose marks these were; where none were read, what was told stays for the next look.
  if (work.found === null || kept.sha256 !== work.photo?.sha256) patch({ ...begun, found: null })
  step('Looking for marks…')
  const found = await theBackend().detect(id, photo, hints, stop)
  if (stop.aborted) return null
  if (isUnmeasurable(found)) return found
  chosen.set({ handle: null, hover: null, tool: 'move', placed: nothingPlaced })
  patch({ ...begun, found })
  say(`${found.marks.length} marks found. Check them before you believe them.`)
  return null
}

/** Photo to the project, marks out of the photo; each step said, each stoppable. @returns why not, or nothing */
export const lookForMarks = (photo: Blob & { readonly name?: string }, hints: Hints, by: Search): Promise<Unmeasurable | null> =>
  search(photo, hints, by).catch((error: unknown) => (by.stop.aborted ? null : failed(error)))
