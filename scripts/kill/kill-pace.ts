import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { killAfter } from './kill-after.ts'
import type { KillCount } from './kill-note.ts'

const RUN = ['--steps-per-rev', '48', '--microsteps', '4', '--run-up', '0', '--settle', '0s', '--rate', '10000', '--commands', '20000', '--dwell', '0.004s', '--max-energised', '1000min']

/** Commands of the rows of a trace that `pace` writes, in the order of the file. */
const commandsIn = (path: string): number[] =>
  (existsSync(path) ? readFileSync(path, 'utf8') : '')
    .split('\n')
    .filter((line) => /^[^#]*,\d+,,\d+,[+-],/.test(line))
    .map((line) => Number(line.split(',')[1]))

/**
 * Kills `pace` at random moments while it counts the commands of one run, which each next start goes on with. A row is on the disk
 * before the next mark is asked for: all that were asked for but the last must be there, each once and in order.
 * @param program words that start the tool: path and whatever stands before the trace
 */
export const killPace = async (program: readonly string[], { folder, moments, random }: { readonly folder: string; readonly moments: number; readonly random: () => number }): Promise<KillCount> => {
  const path = join(folder, 'killed.csv')
  let [old, fresh, before] = [0, 0, 0]
  const neither: string[] = []
  for (let i = 0; i < moments; i++) {
    let said = ''
    await killAfter([...program, path, ...(existsSync(path) ? ['--resume'] : RUN)], { ms: 1 + 250 * random(), afterWords: (chunk) => (said += chunk) })
    const asked = said.split('\n').filter((line) => line.endsWith('MARK')).length
    const commands = commandsIn(path)
    if (commands.some((command, row) => command !== row) || commands.length < before + asked - 1) neither.push(`moment ${i}: ${commands.length} rows, ${before} before and ${asked} asked for`)
    else if (commands.length === before) old++
    else fresh++
    before = commands.length
  }
  return { moments, old, fresh, neither }
}
