import { beginDurable } from '#adapters/files/durable-file'
import { editNote } from '#adapters/files/note-file'
import type { BenchActions } from '#adapters/page/server/server-options'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { noteBlock } from '#core/report/note/note-block'
import { markerKey } from '#core/report/note/note-markers'
import { noteTemplate } from '#core/report/note/note-template'
import { placeBlock } from '#core/report/note/place-block'

/** Puts a result into a parts note between its markers; a note that is not there yet is begun. */
export const putNote: NonNullable<BenchActions['putNote']> = async (note, result, evidence) => {
  const { motor } = result
  const begun = await beginDurable(note, noteTemplate({ name: motor.name, stepsPerRev: motor.stepsPerRev }))
  if (!isUnmeasurable(begun)) await begun.close()
  const key = markerKey(`${motor.name} ${motor.stepsPerRev}x${motor.microsteps}`)
  const edited = await editNote(note, (text) => placeBlock(text, key, noteBlock(result, { evidence: `${evidence.replaceAll('\\', '/')}/result.json` })))
  return isUnmeasurable(edited) ? edited : null
}
