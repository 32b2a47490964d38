import type { KeptEvidence } from '#adapters/files/read-evidence'
import type { InputFile } from '#adapters/files/read-input'
import { evidenceFiles } from '#adapters/terminal/measure/evidence'
import { sha256 } from '#adapters/terminal/measure/manifest'
import { travelThrough } from '#adapters/terminal/measure/travel-through'
import type { Detection } from '#core/detect/detection'
import type { Trace } from '#core/ingest/trace'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import type { FileFinding } from '#core/report/replay/replay-document'

/** The report embeds the overlay: both need the photo. */
const needPhoto = ['report.html', 'overlay.png']

/**
 * Writes every file of the evidence again from its figures, in memory, and names those kept that are other. It finds a
 * file that was changed together with its hash.
 * @param photo the photo's file where it can be had; without it report and overlay of a photo are not checked
 */
export const renderedAgain = async (kept: KeptEvidence, trace: Trace, photo: InputFile | null): Promise<readonly FileFinding[]> => {
  const { manifest, result, files } = kept
  const ofPhoto = manifest.input.kind === 'photo'
  const typed = files.get(manifest.input.keptAs ?? '') ?? new Uint8Array()
  const input: InputFile = photo ?? { kind: manifest.input.kind, name: manifest.input.name, sha256: manifest.input.sha256, bytes: typed }
  const travel = await travelThrough(manifest.options.train, result)
  const again = await evidenceFiles({ result, input, trace, detection: photo ? (result.detection as unknown as Detection) : null, travel: isUnmeasurable(travel) ? null : travel })
  return [...files.keys()]
    .filter((file) => again.has(file) || Object.hasOwn(manifest.files, file))
    .filter((file) => !(ofPhoto && photo === null && needPhoto.includes(file)))
    .flatMap((file): FileFinding[] => {
      const content = again.get(file)
      return content !== undefined && sha256(content) === sha256(files.get(file) ?? '') ? [] : [{ file, what: 'not what the figures give' }]
    })
}
