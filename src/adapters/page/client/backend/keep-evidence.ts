import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { download, zipped } from './download.ts'
import { evidenceFiles, type Files, type KeptTest, testFiles } from './evidence-files.ts'
import { projectFolder, writeAll } from './project-folder.ts'

const under = (folder: string, files: Files): Files => new Map([...files].map(([name, content]) => [`${folder}/${name}`, content]))

/** A test and its evidence into the project folder; where the browser has no such thing, as one archive to download. */
export const keepEvidence = async (kept: KeptTest, stop: AbortSignal): Promise<{ readonly where: string; readonly result: Result } | Unmeasurable> => {
  const folder = await projectFolder()
  const made = await evidenceFiles(kept, stop)
  if (isUnmeasurable(made)) return made
  const [test, evidence] = [`tests/${kept.id}`, `evidence/${kept.id}`]
  const own = await testFiles(kept)
  stop.throwIfAborted()
  if (folder) {
    await writeAll(folder, test, own)
    await writeAll(folder, evidence, made.files)
    return { where: `${folder.name}/${evidence}`, result: made.result }
  }
  download(`${kept.id}-evidence.zip`, zipped(new Map([...under(test, own), ...under(evidence, made.files)])))
  return { where: `${kept.id}-evidence.zip, in your downloads`, result: made.result }
}
