import { renameSync } from 'node:fs'
import { hostname } from 'node:os'
import { basename, dirname, join } from 'node:path'

/** This machine's name as it may stand in a file name. */
export const hostName = (): string => hostname().replace(/[^A-Za-z0-9.]/g, '_').slice(0, 60)

/** What every scratch folder of a target begins with; then come machine, process and six signs of chance. */
export const scratchFamily = (target: string): string => `.${basename(target)}.stepwitness-`

/** Beside the target, so that a rename moves no data; names its owner, so that a stopped run's can be told. */
export const scratchPrefix = (target: string): string => join(dirname(target), `${scratchFamily(target)}${hostName()}-${process.pid}-`)

/** What the system calls an error; null where it has no name for it. */
export const codeOf = (error: unknown): unknown => (error instanceof Error && 'code' in error ? error.code : null)

/** Takes a folder out of the way; false when there is none. */
const movedAway = (target: string, place: string): boolean => {
  try {
    renameSync(target, place)
    return true
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false
    throw error
  }
}

/** Another run put its folder there between our two renames. */
const overtaken = (error: unknown): boolean => ['ENOTEMPTY', 'EEXIST'].includes(String(codeOf(error)))

/**
 * The fresh folder `scratch/new` takes the target's place, the earlier one goes to `scratch/old-0`. The two renames follow
 * each other without a pause; when the second fails, the first is taken back; when another run was quicker, its folder is
 * the earlier one.
 */
export const swapIn = (target: string, scratch: string): void => {
  for (let turn = 0; ; turn++) {
    const old = join(scratch, `old-${turn}`)
    const there = movedAway(target, old)
    try {
      renameSync(join(scratch, 'new'), target)
      return
    } catch (error) {
      if (overtaken(error) && turn < 100) continue
      if (there) renameSync(old, target)
      throw error
    }
  }
}
