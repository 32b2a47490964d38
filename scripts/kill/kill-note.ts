import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { blocksIn } from '#core/report/note/note-markers'
import { anyMoment, killAfter, runTime } from './kill-after.ts'

/** What moments of killing did to a file. */
export interface KillCount {
  readonly moments: number
  readonly old: number
  readonly fresh: number
  readonly neither: readonly string[]
}

const own = '\uFEFF# Motor\r\n\r\nmine\r\n'

/**
 * Kills `note` at random moments of its run, each run putting one more block into the same note.
 * @param program words that start the tool: path and whatever stands before `note`
 * @param random numbers in 0 … 1
 */
export const killNote = async (program: readonly string[], { folder, result, moments, random }: { readonly folder: string; readonly result: string; readonly moments: number; readonly random: () => number }): Promise<KillCount> => {
  const note = join(folder, 'killed.md')
  const words = (test: string) => [...program, note, result, '--test', test]
  writeFileSync(note, own)
  const whole = await runTime(words('first'))
  let [old, fresh] = [0, 0]
  const neither: string[] = []
  for (let i = 0; i < moments; i++) {
    const before = readFileSync(note, 'utf8')
    // The lock of a killed run is waited for until it is stale; here its time is over at once.
    rmSync(`${note}.lock`, { recursive: true, force: true })
    await killAfter(words(`run ${i}`), anyMoment(i, { whole, folder, random }))
    const after = readFileSync(note, 'utf8')
    const [was, is] = [blocksIn(before), blocksIn(after)]
    const one = Array.isArray(was) && Array.isArray(is) && is.length === was.length + 1 && after.startsWith(before.trimEnd())
    if (after === before) old++
    else if (one) fresh++
    else neither.push(`moment ${i}`)
  }
  return { moments, old, fresh, neither }
}
