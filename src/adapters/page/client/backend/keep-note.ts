import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { noteBlock } from '#core/report/note/note-block'
import { markerKey } from '#core/report/note/note-markers'
import { noteTemplate } from '#core/report/note/note-template'
import { placeBlock } from '#core/report/note/place-block'
import type { Result } from '#core/report/result-schema'
import { shelf } from './browser-shelf.ts'
import { download } from './download.ts'
import { projectFolder, readFrom, writeInto } from './project-folder.ts'

const notes = shelf<string>('notes')

const noteWith = (text: string | null, { result, id }: { readonly result: Result; readonly id: string }): string | Unmeasurable => {
  const { name, stepsPerRev, microsteps } = result.motor
  return placeBlock(text ?? noteTemplate({ name, stepsPerRev }), markerKey(`${name} ${stepsPerRev}x${microsteps}`), noteBlock(result, { evidence: `../evidence/${id}/result.json` }))
}

/** A plain name, as a file on every system may have it. */
const fileName = (note: string): string | null => (/^[\p{L}\p{N}_][\p{L}\p{N}_ .()-]{0,79}$/u.test(note.trim()) ? note.trim().replace(/(\.md)?$/i, '.md') : null)

export const noteNames = async (): Promise<readonly string[]> => (await notes.all()).map(([name]) => name)

/**
 * A result between its markers in a note of the project folder; where the browser has no folders, in the note this browser
 * keeps, handed over as a download each time.
 */
export const keepNote = async (id: string, note: string, result: Result | undefined): Promise<{ readonly where: string } | Unmeasurable> => {
  const name = fileName(note)
  if (name === null) return unmeasurable('this is no name for a file', 'the note', 'give a plain name, such as heater-flap')
  if (!result) return unmeasurable('there is no evidence of this test yet', 'the note', 'save the evidence first')
  const folder = await projectFolder()
  const before = folder ? await readFrom(folder, `notes/${name}`) : ((await notes.get(name)) ?? null)
  const text = noteWith(before, { result, id })
  if (isUnmeasurable(text)) return { ...text, where: `${name}, ${text.where}` }
  if (folder) await writeInto(folder, `notes/${name}`, text)
  else download(name, text)
  await notes.put(name, text)
  return { where: folder ? `${folder.name}/notes/${name}` : `${name}, in your downloads` }
}
